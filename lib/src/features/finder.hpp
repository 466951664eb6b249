#pragma once

/// Sorts the faces that a straight cut can't make into features.

#include <IntCurvesFace_Intersector.hxx>
#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "features/plate_view.hpp"
#include "planform/features.hpp"

namespace planform::features {

/// A circle around an upright axis.
struct Round {
    Point2 center;
    double radius;
};

/// One flat level of a recess, with the slanted and rounded faces that lead up from it.
struct Floor {
    Region flat;
    Region attached;
    bool looks_up = true;
    double height = 0.0;
};

/// What lies over a level.
enum class Cover { none, some, all };

/// Each step takes the faces that it explains; what is left goes to the next.
class Finder {
  public:
    explicit Finder(const PlateView& view);

    std::vector<UncuttableFeature> run();

  private:
    // bodies.cpp: what is told by where it lies
    void find_cavities();
    void find_bosses();
    // cross_holes.cpp
    void find_cross_holes();
    void add_cross_hole(std::vector<std::size_t> faces);
    // floors.cpp
    std::vector<Region> levels() const;
    void find_floors();
    void attach_groups(Floor& floor);
    bool leads_up(const Region& group, const Floor& floor) const;
    void add_floor(const Floor& floor);
    std::optional<Round> common_round(
        const std::vector<std::pair<std::size_t, double>>& sides) const;
    std::optional<Round> round_at(std::size_t face, double height) const;
    // grooves.cpp: recesses in walls
    Cover cover_of(std::size_t face) const;
    void find_covered();
    void find_loose_grooves();
    void add_groove(const Region& region, bool opens_up, bool opens_down);
    double depth_into_wall(const Region& region) const;
    // slanted.cpp
    void group_surfaces();
    void merge_pieces_of_cones();
    void merge_patches();
    void find_slanted();
    void add_bevel(const Region& group);
    void add_rounding(const Region& group);
    void add_free(const Region& group);
    bool is_conical_recess(const Region& group) const;

    bool is_left(std::size_t face) const { return !taken_[face]; }
    void take(const Region& region);
    bool meets(const Region& region, FaceRole role) const;
    /// Does a line from this place, up or down, meet one of the faces?
    bool meets_any(const Point3& place, bool up, const std::vector<std::size_t>& faces) const;
    /// With place, box, heights and faces filled in.
    UncuttableFeature described(FeatureKind kind, FeatureSide side, const Region& region) const;
    void add(UncuttableFeature feature) { features_.push_back(std::move(feature)); }

    const PlateView& view_;
    mutable std::map<std::size_t, std::unique_ptr<IntCurvesFace_Intersector>> lines_;
    std::vector<bool> taken_;
    std::vector<Region> groups_;  ///< slanted, rounded and free faces that are alike
    std::map<std::size_t, std::size_t> group_of_;  ///< by face, index in groups_
    std::vector<UncuttableFeature> features_;
};

/// Fills in the sentences; needs all features, since some change what others show.
void write_texts(std::vector<UncuttableFeature>& features);

}  // namespace planform::features
