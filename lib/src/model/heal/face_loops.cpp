#include "model/heal/face_loops.hpp"

#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>

namespace planform::model {

namespace {

bool has_side(const TopoDS_Shape& shape) {
    return shape.Orientation() == TopAbs_FORWARD || shape.Orientation() == TopAbs_REVERSED;
}

bool is_chained(const Loop& loop) {
    for (size_t i = 0; i < loop.size(); ++i) {
        const TopoDS_Vertex end = TopExp::LastVertex(loop[i], Standard_True);
        const TopoDS_Vertex start = TopExp::FirstVertex(loop[(i + 1) % loop.size()], Standard_True);
        if (end.IsNull() || start.IsNull() || !end.IsSame(start)) return false;
    }
    return !loop.empty();
}

std::optional<Loop> loop_of(const TopoDS_Shape& wire) {
    Loop loop;
    for (TopoDS_Iterator edges(wire.Oriented(TopAbs_FORWARD)); edges.More(); edges.Next()) {
        const TopoDS_Shape& edge = edges.Value();
        if (edge.ShapeType() != TopAbs_EDGE || !has_side(edge)) return std::nullopt;
        if (!edge.Location().IsIdentity()) return std::nullopt;
        loop.push_back(TopoDS::Edge(edge));
    }
    if (wire.Orientation() == TopAbs_REVERSED) {
        std::reverse(loop.begin(), loop.end());
        for (TopoDS_Edge& edge : loop) edge.Reverse();
    }
    if (!is_chained(loop)) return std::nullopt;
    return loop;
}

}  // namespace

std::optional<std::vector<Loop>> loops_of(const TopoDS_Face& face) {
    std::vector<Loop> loops;
    for (TopoDS_Iterator wires(face.Oriented(TopAbs_FORWARD)); wires.More(); wires.Next()) {
        const TopoDS_Shape& wire = wires.Value();
        if (wire.ShapeType() != TopAbs_WIRE || !has_side(wire)) return std::nullopt;
        if (!wire.Location().IsIdentity()) return std::nullopt;
        std::optional<Loop> loop = loop_of(wire);
        if (!loop) return std::nullopt;
        loops.push_back(*std::move(loop));
    }
    if (loops.empty() || !face.Location().IsIdentity()) return std::nullopt;
    return loops;
}

bool is_outline_with_holes(const std::vector<double>& areas) {
    const auto outline = std::max_element(areas.begin(), areas.end());
    if (outline == areas.end() || !(*outline > 0.0)) return false;
    return std::all_of(areas.begin(), areas.end(), [&](const double& area) {
        return &area == &*outline || (area < 0.0 && -area < *outline);
    });
}

}  // namespace planform::model
