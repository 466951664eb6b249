#include "model/heal/sound_solid.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <Precision.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>

#include "model/measure/measure.hpp"

namespace planform::model {

namespace {

/// Sets of faces that hang together by edges.
class Pieces {
  public:
    int add() {
        parent_.push_back(static_cast<int>(parent_.size()));
        return parent_.back();
    }
    void join(int a, int b) { parent_[static_cast<size_t>(root(a))] = root(b); }
    bool are_one() {
        for (const int piece : parent_) {
            if (root(piece) != root(0)) return false;
        }
        return true;
    }

  private:
    int root(int piece) {
        while (parent_[static_cast<size_t>(piece)] != piece) {
            int& parent = parent_[static_cast<size_t>(piece)];
            parent = parent_[static_cast<size_t>(parent)];
            piece = parent;
        }
        return piece;
    }
    std::vector<int> parent_;
};

/// What uses an edge: at most two stretches of faces.
struct EdgeUse {
    int shell = 0;
    int face = 0;
    bool forward = false, reversed = false;
};

/// Follows which stretch of which face uses each edge of a solid.
class EdgeUses {
  public:
    /// False if an edge is met a second time the same way, or in another shell.
    bool take_shell(const TopoDS_Shape& shell, int number) {
        Pieces pieces;
        for (TopoDS_Iterator faces(shell); faces.More(); faces.Next()) {
            const int piece = pieces.add();
            for (TopExp_Explorer edges(faces.Value(), TopAbs_EDGE); edges.More(); edges.Next()) {
                if (!take_edge(TopoDS::Edge(edges.Current()), {number, piece}, pieces))
                    return false;
            }
        }
        return pieces.are_one();
    }

    bool all_both_ways() const {
        return std::all_of(uses_.begin(), uses_.end(),
                           [](const EdgeUse& use) { return use.forward && use.reversed; });
    }

  private:
    bool take_edge(const TopoDS_Edge& edge, const EdgeUse& use, Pieces& pieces) {
        if (BRep_Tool::Degenerated(edge)) return true;
        const bool forward = edge.Orientation() == TopAbs_FORWARD;
        if (!forward && edge.Orientation() != TopAbs_REVERSED) return false;
        const auto index = static_cast<size_t>(edges_.Add(edge));
        if (index > uses_.size()) uses_.push_back(use);
        EdgeUse& all = uses_[index - 1];
        bool& way = forward ? all.forward : all.reversed;
        if (way || all.shell != use.shell) return false;
        way = true;
        pieces.join(all.face, use.face);
        return true;
    }

    TopTools_IndexedMapOfShape edges_;
    std::vector<EdgeUse> uses_;
};

/// Area of a loop and its length, by chords.
struct Extent {
    double area = 0.0, length = 0.0;
};

Extent extent_of(const Loop& loop, const gp_Pln& plane) {
    const gp_Vec normal = gp_Vec(plane.XAxis().Direction()).Crossed(plane.YAxis().Direction());
    const gp_Pnt origin = BRep_Tool::Pnt(TopExp::FirstVertex(loop.front()));
    gp_Vec twice(0.0, 0.0, 0.0);
    double length = 0.0;
    for (const TopoDS_Edge& edge : loop) {
        double first = 0.0, last = 0.0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
        const GeomAdaptor_Curve adaptor(curve, first, last);
        const int chords = adaptor.GetType() == GeomAbs_Line ? 1 : 8;
        if (edge.Orientation() == TopAbs_REVERSED) std::swap(first, last);
        gp_Pnt from = adaptor.Value(first);
        for (int i = 1; i <= chords; ++i) {
            const gp_Pnt to = adaptor.Value(first + (last - first) * i / chords);
            twice += gp_Vec(origin, from).Crossed(gp_Vec(origin, to));
            length += from.Distance(to);
            from = to;
        }
    }
    return {twice.Dot(normal) / 2.0, length};
}

}  // namespace

bool is_closed_and_consistent(const TopoDS_Shape& solid) {
    EdgeUses uses;
    int number = 0;
    for (TopoDS_Iterator shells(solid); shells.More(); shells.Next()) {
        if (shells.Value().ShapeType() != TopAbs_SHELL) return false;
        if (!uses.take_shell(shells.Value(), ++number)) return false;
    }
    return number > 0 && uses.all_both_ways();
}

bool is_sound_edge(const TopoDS_Edge& edge, double precision) {
    TopoDS_Vertex first_vertex, last_vertex;
    TopExp::Vertices(edge, first_vertex, last_vertex);
    double first = 0.0, last = 0.0;
    const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
    if (curve.IsNull() || first_vertex.IsNull() || last_vertex.IsNull()) return false;
    if (Precision::IsInfinite(first) || Precision::IsInfinite(last) || !(first < last))
        return false;
    const gp_Pnt start = BRep_Tool::Pnt(first_vertex), end = BRep_Tool::Pnt(last_vertex);
    if (!first_vertex.IsSame(last_vertex) && start.Distance(end) <= precision) return false;
    return curve->Value(first).Distance(start) <= precision &&
           curve->Value(last).Distance(end) <= precision;
}

bool is_sound_plane(const TopoDS_Face& face, const std::vector<Loop>& loops) {
    constexpr double thin = 1e-9;
    const gp_Pln plane = BRepAdaptor_Surface(face, Standard_False).Plane();
    std::vector<double> areas;
    for (const Loop& loop : loops) {
        const Extent extent = extent_of(loop, plane);
        if (std::abs(extent.area) <= thin * extent.length * extent.length) return false;
        areas.push_back(extent.area);
    }
    return is_outline_with_holes(areas);
}

bool is_turned_outward(const TopoDS_Shape& solid) {
    int positive = 0;
    for (TopoDS_Iterator shells(solid); shells.More(); shells.Next()) {
        if (rough_volume(shells.Value()) > 0.0) ++positive;
    }
    return positive == 1;
}

}  // namespace planform::model
