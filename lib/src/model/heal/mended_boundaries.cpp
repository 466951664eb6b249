#include "model/heal/mended_boundaries.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_Surface.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <vector>

#include "model/heal/boundary_unwrap.hpp"

namespace planform::model {

namespace {

/// A pole's curve runs over whole periods to this part of one.
constexpr double whole = 1e-6;
/// The surface moves along an edge that is no pole by more than so many of its tolerances.
constexpr double beyond_tolerance = 10.0;

struct FalsePole {
    TopoDS_Wire wire;
    TopoDS_Edge edge;
};

/// The boundary of one face; gives up where a curve is missing.
class MendedBoundary {
  public:
    explicit MendedBoundary(const TopoDS_Face& face)
        : face_(TopoDS::Face(face.Oriented(TopAbs_FORWARD))),
          surface_(BRep_Tool::Surface(face_, location_)),
          adaptor_(surface_) {
        periods_ = {adaptor_.IsUPeriodic() ? adaptor_.UPeriod() : 0.0,
                    adaptor_.IsVPeriodic() ? adaptor_.VPeriod() : 0.0};
    }

    /// Finds what is wrong; true if anything is.
    bool is_broken() {
        if (periods_.isZero(0.0) || !read()) return false;
        const bool moved = unwrap_boundary(curves_, uses_, periods_);
        return moved || !false_poles_.empty();
    }

    /// Changes the face and its wires themselves; is_broken() has been called and is true.
    void mend() {
        // The old surface may be another face's, too, for which the curves are right.
        const Handle(Geom_Surface) own = Handle(Geom_Surface)::DownCast(surface_->Copy());
        builder_.UpdateFace(face_, own, location_, BRep_Tool::Tolerance(face_));
        for (const FalsePole& pole : false_poles_) {
            TopoDS_Wire wire = pole.wire;
            wire.Free(Standard_True);
            builder_.Remove(wire, pole.edge);
        }
        for (std::size_t i = 0; i < edges_.size(); ++i)
            if (other_side(i) >= i) set_curves(i);
    }

  private:
    bool read() {
        for (TopoDS_Iterator wires(face_); wires.More(); wires.Next()) {
            if (wires.Value().ShapeType() != TopAbs_WIRE) continue;
            const TopoDS_Wire& wire = TopoDS::Wire(wires.Value());
            for (TopoDS_Iterator it(wire); it.More(); it.Next())
                if (!take(wire, TopoDS::Edge(it.Value()))) return false;
        }
        return !edges_.empty();
    }

    bool take(const TopoDS_Wire& wire, const TopoDS_Edge& edge) {
        const bool along = edge.Orientation() == TopAbs_FORWARD;
        if (!along && edge.Orientation() != TopAbs_REVERSED) return true;
        ParameterCurve side;
        side.curve = BRep_Tool::CurveOnSurface(edge, face_, side.first, side.last);
        if (side.curve.IsNull()) return false;
        if (BRep_Tool::Degenerated(edge) && is_false_pole(edge, side)) {
            false_poles_.push_back({wire, edge});
            return true;
        }
        curves_.push_back(side);
        uses_.push_back(boundary_use(edge, numbers_.Add(edge), along));
        edges_.push_back(edge);
        return true;
    }

    /// Can an edge without extent be left out, as it only leads from period to period, and does
    /// the surface move along it all the same?
    bool is_false_pole(const TopoDS_Edge& edge, const ParameterCurve& side) const {
        const gp_Pnt2d from = side.curve->Value(side.first), to = side.curve->Value(side.last);
        const Vector2 way(to.X() - from.X(), to.Y() - from.Y());
        for (const Eigen::Index axis : {0, 1}) {
            const double period = periods_[axis] > 0.0 ? periods_[axis] : periods_.maxCoeff();
            const double turns = periods_[axis] > 0.0 ? std::round(way[axis] / period) : 0.0;
            if (std::abs(way[axis] - turns * period) > whole * period) return false;
        }
        const auto at = [&](double part) {
            const gp_Pnt2d p = side.curve->Value(side.first + part * (side.last - side.first));
            return adaptor_.Value(p.X(), p.Y());
        };
        // Thirds: a period is left out whole, and half of it could be a place that comes twice.
        const double moved = std::max(at(0.0).Distance(at(1.0 / 3.0)), at(0.0).Distance(at(0.5)));
        return moved > beyond_tolerance * BRep_Tool::Tolerance(edge);
    }

    /// The other use of an edge by this face; the place itself if there is none.
    std::size_t other_side(std::size_t place) const {
        for (std::size_t i = 0; i < uses_.size(); ++i)
            if (i != place && uses_[i].edge == uses_[place].edge) return i;
        return place;
    }

    void set_curves(std::size_t place) {
        const TopoDS_Edge edge = TopoDS::Edge(edges_[place].Oriented(TopAbs_FORWARD));
        const double tolerance = BRep_Tool::Tolerance(edge);
        const std::size_t other = other_side(place);
        if (other == place) {
            builder_.UpdateEdge(edge, curves_[place].curve, face_, tolerance);
        } else {
            const std::size_t along = uses_[place].along ? place : other;
            const std::size_t against = along == place ? other : place;
            builder_.UpdateEdge(edge, curves_[along].curve, curves_[against].curve, face_,
                                tolerance);
        }
        builder_.Range(edge, face_, curves_[place].first, curves_[place].last);
    }

    TopoDS_Face face_;
    TopLoc_Location location_;
    Handle(Geom_Surface) surface_;
    GeomAdaptor_Surface adaptor_;
    Vector2 periods_;
    BRep_Builder builder_;
    TopTools_IndexedMapOfShape numbers_;
    std::vector<TopoDS_Edge> edges_;      ///< as the face uses them, false poles left out
    std::vector<ParameterCurve> curves_;  ///< by place in edges_
    std::vector<BoundaryUse> uses_;
    std::vector<FalsePole> false_poles_;
};

TopTools_IndexedMapOfShape faces_of(const TopoDS_Shape& body) {
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(body, TopAbs_FACE, faces);
    return faces;
}

}  // namespace

TopoDS_Shape with_mended_boundaries(const TopoDS_Shape& body) {
    const TopTools_IndexedMapOfShape faces = faces_of(body);
    std::vector<int> broken;
    for (int i = 1; i <= faces.Extent(); ++i)
        if (MendedBoundary(TopoDS::Face(faces(i))).is_broken()) broken.push_back(i);
    if (broken.empty()) return body;
    const TopoDS_Shape copy = BRepBuilderAPI_Copy(body).Shape();
    const TopTools_IndexedMapOfShape copied = faces_of(copy);
    for (const int i : broken) {
        MendedBoundary boundary(TopoDS::Face(copied(i)));
        if (boundary.is_broken()) boundary.mend();
    }
    return copy;
}

}  // namespace planform::model
