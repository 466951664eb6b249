#include "flatten/proof/face_ledger.hpp"

#include <algorithm>
#include <cmath>
#include <gp_Vec.hxx>
#include <gp_XYZ.hxx>
#include <sstream>

#include "model/kernel/points.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Areas are known to this, of the square of the shape's size: what is left when large ones cancel.
constexpr double rounding = 1e-11;
/// Where curves are recognised as lines and arcs, and where the kernel's points are one, mm.
constexpr double same_curve = 2e-7;
/// How well the shadow of a surface is known from samples: of itself, and of the surface's area
/// where it is seen nearly edge-on.
constexpr double shadow_slack = 0.05, surface_slack = 0.01;

/// The largest shadow, sheet by sheet, that a face of such a surface may have, mm^2.
double largest_shadow(const SurfaceExtent& extent) {
    return (1.0 + shadow_slack) * extent.shadow + surface_slack * extent.area;
}

}  // namespace

FaceLedger::FaceLedger(const model::AreaVectors& areas, const solid::ShapeGraph& graph,
                       const std::function<bool(const solid::GraphFace&)>& takes_part,
                       double tolerance)
    : areas_(areas), graph_(graph), tolerance_(tolerance) {
    // The datum's normal seen from the shape's own coordinates.
    view_ = model::from_kernel(gp_Vec(0.0, 0.0, 1.0).Transformed(graph.placement.Inverted()));
    gp_XYZ reference(areas.reference.x(), areas.reference.y(), areas.reference.z());
    graph.placement.Transforms(reference);
    reference_ = model::from_kernel(reference);
    pivot_ = reference_.head<2>();
    if (areas.faces.size() != graph.faces.size() || areas.edges.size() != graph.edges.size())
        throw GeometryError(ErrorKind::law_broken,
                            "the areas of its faces don't belong to this shape");
    // A face that is never entered stays in the sum as its boundary says.
    for (std::size_t i = 0; i < graph.faces.size(); ++i)
        if (!takes_part || takes_part(graph.faces[i])) expected_ += std::max(0.0, area(i));
}

bool FaceLedger::holds(Count& law, double lacking, double length) {
    const double deviation = length > 0.0 ? std::max(0.0, lacking) / length : 0.0;
    if (!(deviation <= tolerance_)) return false;
    ++law.checks;
    law.largest = std::max(law.largest, deviation);
    return true;
}

bool FaceLedger::enter_whole(std::size_t face, Facing facing) {
    const double area = this->area(face);
    const double lacking = facing == Facing::viewer ? -area
                           : facing == Facing::away ? area
                                                    : std::abs(area);
    if (!holds(faces_, lacking, areas_.faces[face].perimeter)) return false;
    expected_ += (facing == Facing::viewer ? area : 0.0) - std::max(0.0, area);
    return true;
}

double FaceLedger::area_of(const EdgeStretch& stretch) const {
    const auto index = static_cast<std::size_t>(stretch.edge);
    const solid::GraphEdge& edge = graph_.edges[index];
    if (edge.degenerate()) return 0.0;
    if (stretch.from <= edge.first && stretch.to >= edge.last)
        return projected(areas_.edges[index].area);
    double area =
        model::edge_area(edge.curve, stretch.from, stretch.to, edge.placement(), reference_)
            .area.z();
    const auto vertex = [&](int number) -> Point2 {
        return graph_.vertices[static_cast<std::size_t>(number)].head<2>();
    };
    if (stretch.from <= edge.first)
        area += swept(vertex(edge.start_vertex), edge.point(edge.first).head<2>());
    if (stretch.to >= edge.last)
        area += swept(edge.point(edge.last).head<2>(), vertex(edge.end_vertex));
    return area;
}

bool FaceLedger::enter_split(std::size_t face, const std::vector<EdgeStretch>& stretches,
                             const std::vector<LevelCurve>& folds, const Outline& outline,
                             const std::function<SurfaceExtent(Sampling)>& extent) {
    double positive = 0.0, length = areas_.faces[face].perimeter;
    for (const EdgeStretch& stretch : stretches) positive += stretch.weight * area_of(stretch);
    for (const LevelCurve& fold : folds) {
        for (const Curve& curve : fold.curves) {
            positive += swept_area(curve, pivot_);
            length += (end_point(curve) - start_point(curve)).norm();
        }
        // Ends without a node of their own lie where the curve ends.
        if (fold.start_node >= 0 && !fold.curves.empty())
            positive += swept(outline.place(fold.start_node), start_point(fold.curves.front()));
        if (fold.end_node >= 0 && !fold.curves.empty())
            positive += swept(end_point(fold.curves.back()), outline.place(fold.end_node));
        if (fold.curves.empty() && fold.start_node >= 0 && fold.end_node >= 0)
            positive += swept(outline.place(fold.start_node), outline.place(fold.end_node));
    }
    const double area = this->area(face);
    // Nothing extra: a hole that was filled counts twice in the sum of both. Few samples settle it
    // nearly always; where they don't, more decide.
    const double both = 2.0 * positive - area;
    double extra = both - largest_shadow(extent(Sampling::coarse));
    if (extra > 0.0) extra = both - largest_shadow(extent(Sampling::fine));
    const double lacking = std::max({-positive, area - positive, extra});
    if (!holds(faces_, lacking, length)) return false;
    expected_ += positive - std::max(0.0, area);
    return true;
}

void FaceLedger::check_sum(const Outline& outline, std::size_t first) {
    const arrange::Input& input = outline.input();
    double enclosed = 0.0, allowed = 0.0, size = 0.0, length = 0.0;
    for (std::size_t i = first; i < input.curves.size(); ++i) {
        const arrange::DirectedCurve& c = input.curves[i];
        const Point2 start = start_point(c.curve), end = end_point(c.curve);
        enclosed += c.weight * (swept(input.nodes[static_cast<std::size_t>(c.start_node)], start) +
                                swept_area(c.curve, pivot_) +
                                swept(end, input.nodes[static_cast<std::size_t>(c.end_node)]));
        const Box2 box = bounds(c.curve);
        const double extent = box.diagonal().norm();
        length += extent;
        // Lines and arcs are exact; splines are taken for lines and arcs within a tenth of a
        // thousandth of what anybody can cut, and offset curves are fitted.
        allowed +=
            (std::holds_alternative<Spline>(c.curve) ? 0.1 * tolerance_ : same_curve) * extent;
        size = std::max({size, (box.min() - pivot_).norm(), (box.max() - pivot_).norm()});
    }
    allowed += rounding * size * size;
    const double deviation = std::abs(enclosed - expected_);
    ++sum_.checks;
    if (length > 0.0) sum_.largest = std::max(sum_.largest, deviation / length);
    if (deviation <= allowed) return;
    std::ostringstream text;
    text << "the law of the sum is broken: its faces have a shadow of " << expected_
         << " mm2, counted sheet by sheet, its outline encloses " << enclosed
         << " mm2; take a finer tolerance, or repair the solid where it was drawn";
    throw GeometryError(ErrorKind::law_broken, text.str());
}

Proof FaceLedger::proof() const {
    Proof proof;
    proof.add("areas of faces", faces_.checks, faces_.largest);
    proof.add("sum of areas", sum_.checks, sum_.largest);
    return proof;
}

}  // namespace planform::flatten
