#pragma once

/// A solid as the unfolding sees it: its graph in model coordinates, what each surface is to a
/// sheet, and which faces meet along which edge.

#include <deque>
#include <optional>
#include <span>
#include <vector>

#include "planform/model.hpp"
#include "solid/face_surface.hpp"
#include "solid/shape_graph.hpp"
#include "unfold/edge_form.hpp"
#include "unfold/sheet_surface.hpp"

namespace planform::unfolding {

/// An edge as a face uses it.
struct FaceUse {
    int face;
    int use;  ///< index in the uses of the face
};

/// How two faces meet along an edge.
enum class Meeting {
    smooth,   ///< one goes on as the other
    outward,  ///< the material makes a ridge
    inward,   ///< it makes a valley
};

class SheetBody {
  public:
    /// The shape must outlive the body. Throws GeometryError for edges without curves and the
    /// kernel's exceptions.
    ///
    /// Of a mended shape `drawn` is the body as it was: numbers are those of the faces and edges
    /// there that lie on the same surface and between the same ends, 0 of new ones.
    explicit SheetBody(const TopoDS_Shape& shape, const SheetBody* drawn = nullptr);
    SheetBody(const SheetBody&) = delete;
    SheetBody& operator=(const SheetBody&) = delete;

    const TopoDS_Shape& shape() const { return shape_; }
    std::size_t face_count() const { return graph.faces.size(); }
    const solid::GraphFace& face(int index) const {
        return graph.faces[static_cast<std::size_t>(index)];
    }
    const solid::GraphEdge& edge(int index) const {
        return graph.edges[static_cast<std::size_t>(index)];
    }
    const SheetSurface& sheet(int face) const { return sheets[static_cast<std::size_t>(face)]; }
    /// Made when first asked for: of most faces nothing but `sheet` is needed.
    const solid::FaceSurface& surface(int face) const;
    double area(int face) const { return areas[static_cast<std::size_t>(face)]; }
    int number(int face) const { return numbers_[static_cast<std::size_t>(face)]; }
    int edge_number(int edge) const { return edge_numbers_[static_cast<std::size_t>(edge)]; }
    /// The face at the other side of an edge; the face itself at a seam, -1 if there is none.
    int beyond(int edge, int face) const;
    /// The use of the edge by a face, the first if there are several.
    FaceUse use_of(int edge, int face) const;
    /// Unit normal out of the solid on a face, at a parameter of one of its edges.
    Vector3 normal_at(const FaceUse& use, double t) const;
    /// Parameter of an edge at a share of its range, 0 to 1.
    double parameter(int edge, double share) const;
    Point3 point(int edge, double share) const;
    /// Of an edge that is not degenerate.
    const EdgeForm& form(int edge) const { return *forms[static_cast<std::size_t>(edge)]; }
    /// Of the solid, mm^3: by the faces' edges where that is exact, else by integrals over faces.
    double volume() const;
    /// By the middle and two more places of the edge.
    Meeting meeting(int edge, const FaceUse& first, const FaceUse& second) const;

    solid::ShapeGraph graph;
    std::vector<SheetSurface> sheets;
    std::vector<std::optional<EdgeForm>> forms;  ///< by edge; none of degenerate ones
    std::vector<double> areas;
    std::vector<std::vector<FaceUse>> uses_of_edge;
    /// Places along the edges of each face.
    std::vector<std::vector<Point3>> places;
    std::vector<Box3> boxes;  ///< of these places, by face
    double size = 0.0;        ///< of the box of these places, mm
    double surface_area = 0.0;

  private:
    void number_as_drawn(const SheetBody& drawn);
    SheetSurface sheet_of(int face, double recognition) const;
    std::optional<Vector3> middle_of_turn(int face, const SheetSurface& surface) const;

    const TopoDS_Shape& shape_;
    mutable std::vector<std::optional<solid::FaceSurface>> surfaces_;
    std::vector<int> numbers_, edge_numbers_;
    Point3 apex_ = Point3::Zero();              ///< of the cones
    std::vector<std::optional<double>> cones_;  ///< by face, see FaceMeasure::cone
};

}  // namespace planform::unfolding
