#pragma once

/// A solid seen as a plate: its faces, where they meet, its top and bottom.

#include <cstddef>
#include <functional>
#include <vector>

#include "features/face_view.hpp"
#include "features/junctions.hpp"
#include "solid/cap_levels.hpp"
#include "solid/section_solid.hpp"

namespace planform::features {

/// Heights nearer than this, mm, are one: see solid::straight_within.
inline constexpr double same_height = solid::straight_within;

/// Faces that belong together, by index, ascending; with the box around them.
struct Region {
    std::vector<std::size_t> faces;
    Box3 box;

    double low() const { return box.min().z(); }
    double high() const { return box.max().z(); }
    bool has(std::size_t face) const;
    void add(const Region& other);
};

class PlateView {
  public:
    explicit PlateView(solid::SectionSolid solid);

    const solid::SectionSolid& solid() const { return solid_; }
    const std::vector<FaceView>& faces() const { return faces_; }
    const FaceView& face(std::size_t index) const { return faces_[index]; }
    const Junctions& junctions() const { return junctions_; }
    /// Heights over the datum.
    double top() const { return top_; }
    double bottom() const { return bottom_; }
    bool top_is_flat() const { return caps_.top.has_value(); }
    bool bottom_is_flat() const { return caps_.bottom.has_value(); }

    using TakesFace = std::function<bool(const FaceView&)>;
    using Joins = std::function<bool(const Junction&)>;
    /// Faces that take part, in sets that are connected by junctions that join; in the order of
    /// their first faces.
    std::vector<Region> regions(const TakesFace& takes, const Joins& joins) const;
    Region region_of(std::vector<std::size_t> faces) const;
    /// Calls `visit(junction, outer face)` for each junction of a region with a face that is not in
    /// it.
    void visit_rim(const Region& region,
                   const std::function<void(const Junction&, std::size_t)>& visit) const;

  private:
    solid::SectionSolid solid_;
    std::vector<solid::FlatFace> flats_;
    solid::CapLevels caps_;
    std::vector<FaceView> faces_;
    Junctions junctions_;
    double top_ = 0.0, bottom_ = 0.0;
};

}  // namespace planform::features
