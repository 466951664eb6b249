#include "unfold/hems.hpp"

#include <BRepAlgoAPI_Splitter.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepTools_ReShape.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>
#include <utility>
#include <vector>

#include "model/kernel/own_copy.hpp"
#include "model/kernel/points.hpp"
#include "model/measure/measure.hpp"
#include "model/measure/planar_face.hpp"
#include "unfold/skin.hpp"

namespace planform::unfolding {

namespace {

/// Directions closer than this are one, rad, and places closer than this share of the thickness.
constexpr double one_direction = 1e-6;
constexpr double one_place_share = 1e-5;
/// Volume and surface of the parted solid are as reckoned within this share.
constexpr double parted_share = 1e-9;

/// Notation: O a place of the axis, a along it; n the normal of one wall, the other's is -n; d from
/// the axis along the walls. They touch each other in the plane through O across n.
struct Hem {
    Point3 origin;
    Vector3 along, normal, into_walls;
    double low, high;    ///< of the half cylinder along a
    double left, right;  ///< of both walls along a
    double reach;        ///< of the shorter wall along d
};

/// How far faces go along a direction from a place.
void extend(const SheetBody& body, int face, const Point3& from, const Vector3& way, double& low,
            double& high) {
    for (const Point3& place : body.places[static_cast<std::size_t>(face)]) {
        const double at = (place - from).dot(way);
        low = std::min(low, at);
        high = std::max(high, at);
    }
}

std::optional<Hem> hem_at(const SheetBody& body, int face, double thickness) {
    const SheetSurface& surface = body.sheet(face);
    if (surface.kind != SurfaceKind::cylinder || surface.hollow ||
        !is_same_thickness(surface.radius, thickness))
        return std::nullopt;
    Hem hem{surface.origin,  surface.axis, Vector3::Zero(),
            Vector3::Zero(), INFINITY,     -INFINITY,
            INFINITY,        -INFINITY,    0.0};
    std::vector<int> walls[2];
    const auto& uses = body.face(face).uses;
    for (std::size_t k = 0; k < uses.size(); ++k) {
        const int wall = body.beyond(uses[k].edge, face);
        if (wall < 0 || wall == face || body.sheet(wall).kind != SurfaceKind::plane ||
            body.edge(uses[k].edge).degenerate() ||
            body.meeting(uses[k].edge, {face, static_cast<int>(k)},
                         body.use_of(uses[k].edge, wall)) != Meeting::smooth)
            continue;
        const Vector3& normal = body.sheet(wall).axis;
        if (hem.normal.isZero()) hem.normal = normal;
        const double lean = hem.normal.dot(normal);
        if (std::abs(std::abs(lean) - 1.0) > one_direction * one_direction) return std::nullopt;
        walls[lean > 0.0 ? 0 : 1].push_back(wall);
    }
    if (walls[0].empty() || walls[1].empty()) return std::nullopt;
    hem.into_walls = hem.along.cross(hem.normal).normalized();
    if (hem.into_walls.dot(surface.middle) > 0.0) hem.into_walls = -hem.into_walls;
    extend(body, face, hem.origin, hem.along, hem.low, hem.high);
    hem.reach = INFINITY;
    for (const auto& side : walls) {
        double nearest = INFINITY, farthest = -INFINITY;
        for (const int wall : side) {
            extend(body, wall, hem.origin, hem.into_walls, nearest, farthest);
            extend(body, wall, hem.origin, hem.along, hem.left, hem.right);
        }
        hem.reach = std::min(hem.reach, farthest);
    }
    return hem.reach > 0.0 ? std::optional(hem) : std::nullopt;
}

bool is_on_axis(const Hem& hem, const Point3& place, double thickness) {
    const Vector3 d = place - hem.origin;
    return (d - d.dot(hem.along) * hem.along).norm() < one_place_share * thickness;
}

/// A slit ends in an edge on the axis.
bool is_parted(const SheetBody& body, const Hem& hem, double thickness) {
    for (std::size_t i = 0; i < body.graph.edges.size(); ++i) {
        const int edge = static_cast<int>(i);
        if (body.edge(edge).degenerate()) continue;
        const Point3 middle = body.point(edge, 0.5);
        const double at = (middle - hem.origin).dot(hem.along);
        if (at > hem.low && at < hem.high && is_on_axis(hem, middle, thickness) &&
            is_on_axis(hem, body.point(edge, 0.0), thickness) &&
            is_on_axis(hem, body.point(edge, 1.0), thickness))
            return true;
    }
    return false;
}

/// A rectangle about a place, from its plane's x and y.
TopoDS_Face rectangle(const Point3& origin, const Vector3& normal, const Vector3& x, double x0,
                      double x1, double y0, double y1) {
    const gp_Pln plane(gp_Ax3(model::to_kernel_point(origin), model::to_kernel_direction(normal),
                              model::to_kernel_direction(x)));
    return BRepBuilderAPI_MakeFace(plane, x0, x1, y0, y1).Face();
}

/// The pieces of a solid that its hem's planes cut it into, with the faces between them.
class Pieces {
  public:
    Pieces(const SheetBody& body, const Hem& hem, double thickness)
        : hem_(hem), thickness_(thickness) {
        // y of the first runs along d, of the second along n.
        const Vector3 along_walls = hem.normal.cross(hem.along);
        const bool is_ahead = along_walls.dot(hem.into_walls) > 0.0;
        TopTools_ListOfShape bodies, tools;
        bodies.Append(model::own_copy(body.shape()));
        tools.Append(rectangle(hem.origin, hem.normal, hem.along, hem.left, hem.right,
                               is_ahead ? 0.0 : -hem.reach, is_ahead ? hem.reach : 0.0));
        tools.Append(rectangle(hem.origin, hem.into_walls, hem.along, hem.low, hem.high, -thickness,
                               thickness));
        BRepAlgoAPI_Splitter splitter;
        splitter.SetArguments(bodies);
        splitter.SetTools(tools);
        splitter.SetRunParallel(Standard_False);
        splitter.Build();
        if (!splitter.IsDone() || splitter.HasErrors()) return;
        for (TopExp_Explorer solid(splitter.Shape(), TopAbs_SOLID); solid.More(); solid.Next())
            solids_.push_back(solid.Current());
        TopTools_IndexedMapOfShape once;
        for (const TopoDS_Shape& solid : solids_)
            for (TopExp_Explorer face(solid, TopAbs_FACE); face.More(); face.Next()) {
                if (once.Contains(face.Current()))
                    between_.Add(face.Current());
                else
                    once.Add(face.Current());
            }
        find_touching();
    }

    /// Of the faces in which the walls touch, mm^2.
    double touching_area() const {
        double area = 0.0;
        for (int i = 1; i <= touching_.Extent(); ++i)
            area += model::face_area(TopoDS::Face(touching_(i)));
        return area;
    }

    /// All pieces as one solid, with a slit where the walls touch. Null if that can't be made.
    TopoDS_Shape slit() const {
        if (touching_.IsEmpty()) return {};
        BRepTools_ReShape copies = copies_of_edges();
        BRep_Builder builder;
        TopoDS_Shell shell;
        builder.MakeShell(shell);
        for (const TopoDS_Shape& solid : solids_) {
            const bool is_above = lies_above(solid);
            for (TopExp_Explorer face(solid, TopAbs_FACE); face.More(); face.Next()) {
                if (between_.Contains(face.Current()) && !touching_.Contains(face.Current()))
                    continue;
                builder.Add(shell, is_above ? copies.Apply(face.Current()) : face.Current());
            }
        }
        shell.Closed(Standard_True);
        TopoDS_Solid result;
        builder.MakeSolid(result);
        builder.Add(result, shell);
        return result;
    }

  private:
    bool is_on_axis(const TopoDS_Shape& vertex) const {
        const gp_Pnt p = BRep_Tool::Pnt(TopoDS::Vertex(vertex));
        return unfolding::is_on_axis(hem_, {p.X(), p.Y(), p.Z()}, thickness_);
    }
    bool is_along_axis(const TopoDS_Shape& edge) const {
        for (TopoDS_Iterator vertex(edge); vertex.More(); vertex.Next())
            if (!is_on_axis(vertex.Value())) return false;
        return true;
    }
    /// Faces between pieces that lie in the plane of the walls, not across them.
    bool lies_along_walls(const TopoDS_Shape& face) const {
        for (TopExp_Explorer vertex(face, TopAbs_VERTEX); vertex.More(); vertex.Next()) {
            const gp_Pnt p = BRep_Tool::Pnt(TopoDS::Vertex(vertex.Current()));
            const Point3 place(p.X(), p.Y(), p.Z());
            if (std::abs((place - hem_.origin).dot(hem_.normal)) > one_place_share * thickness_)
                return false;
        }
        return true;
    }

    /// From the axis on, across edges: what the plane cuts elsewhere is joined again.
    void find_touching() {
        TopTools_IndexedMapOfShape edges;
        for (bool found = true; found;) {
            found = false;
            for (int i = 1; i <= between_.Extent(); ++i) {
                const TopoDS_Shape& face = between_(i);
                if (touching_.Contains(face) || !lies_along_walls(face)) continue;
                bool is_beside = false;
                for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More() && !is_beside;
                     edge.Next())
                    is_beside = edges.Contains(edge.Current()) || is_along_axis(edge.Current());
                if (!is_beside) continue;
                touching_.Add(face);
                TopExp::MapShapes(face, TopAbs_EDGE, edges);
                found = true;
            }
        }
    }

    /// Is it the piece that one side of the slit belongs to: that on the side of n?
    bool lies_above(const TopoDS_Shape& solid) const {
        for (TopExp_Explorer face(solid, TopAbs_FACE); face.More(); face.Next()) {
            if (!touching_.Contains(face.Current())) continue;
            const auto plane = model::plane_of(TopoDS::Face(face.Current()));
            return plane && plane->outward.dot(hem_.normal) < 0.0;
        }
        return false;
    }

    /// Edges of the faces in which the walls touch, but for those on the axis, for one of the
    /// walls.
    BRepTools_ReShape copies_of_edges() const {
        BRepTools_ReShape copies;
        BRep_Builder builder;
        TopTools_IndexedMapOfShape edges, vertices;
        for (int i = 1; i <= touching_.Extent(); ++i) {
            TopExp::MapShapes(touching_(i), TopAbs_EDGE, edges);
            TopExp::MapShapes(touching_(i), TopAbs_VERTEX, vertices);
        }
        for (int i = 1; i <= vertices.Extent(); ++i) {
            if (is_on_axis(vertices(i))) continue;
            const TopoDS_Vertex old = TopoDS::Vertex(vertices(i).Oriented(TopAbs_FORWARD));
            TopoDS_Vertex copy;
            builder.MakeVertex(copy, BRep_Tool::Pnt(old), BRep_Tool::Tolerance(old));
            copies.Replace(old, copy);
        }
        for (int i = 1; i <= edges.Extent(); ++i) {
            if (is_along_axis(edges(i))) continue;
            const TopoDS_Edge old = TopoDS::Edge(edges(i).Oriented(TopAbs_FORWARD));
            TopoDS_Edge copy = TopoDS::Edge(old.EmptyCopied());
            for (TopoDS_Iterator vertex(old, Standard_False, Standard_True); vertex.More();
                 vertex.Next())
                builder.Add(copy, copies.Value(vertex.Value()));
            copies.Replace(old, copy);
        }
        return copies;
    }

    const Hem& hem_;
    double thickness_;
    std::vector<TopoDS_Shape> solids_;
    TopTools_IndexedMapOfShape between_, touching_;
};

double surface_of(const TopoDS_Shape& shape) {
    double area = 0.0;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        area += model::face_area(TopoDS::Face(face.Current()));
    return area;
}

/// Null if the kernel can't part it.
TopoDS_Shape parted(const SheetBody& body, const Hem& hem, double thickness) {
    try {
        const Pieces pieces(body, hem, thickness);
        TopoDS_Shape slit = pieces.slit();
        if (slit.IsNull()) return {};
        const double volume = body.volume();
        const double surface = surface_of(body.shape()) + 2.0 * pieces.touching_area();
        if (std::abs(model::volume_of(slit) - volume) > parted_share * volume ||
            std::abs(surface_of(slit) - surface) > parted_share * surface)
            return {};
        return slit;
    } catch (const Standard_Failure&) {
        return {};
    }
}

}  // namespace

std::optional<PartedHem> part_hem(const SheetBody& body, double thickness) {
    for (std::size_t i = 0; i < body.face_count(); ++i) {
        const int face = static_cast<int>(i);
        const auto hem = hem_at(body, face, thickness);
        if (!hem || is_parted(body, *hem, thickness)) continue;
        TopoDS_Shape shape = parted(body, *hem, thickness);
        if (!shape.IsNull()) return PartedHem{std::move(shape), face};
    }
    return std::nullopt;
}

}  // namespace planform::unfolding
