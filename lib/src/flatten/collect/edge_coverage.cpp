#include "flatten/collect/edge_coverage.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flatten/curves/projected_curve.hpp"

namespace planform::flatten {
namespace {

/// Places on an edge nearer than this, as a share of the edge, are one.
constexpr double same_parameter = 1e-10;

}  // namespace

void EdgeCoverage::prepare() {
    if (breaks_.empty()) breaks_ = {{edge_->first, start_node_, 0}, {edge_->last, end_node_, 0}};
}

EdgeCoverage::Break& EdgeCoverage::break_at(double t) {
    return *std::min_element(breaks_.begin(), breaks_.end(), [t](const Break& a, const Break& b) {
        return std::abs(a.at - t) < std::abs(b.at - t);
    });
}

int EdgeCoverage::node_at(double t, Outline& outline) {
    prepare();
    const Break& nearest = break_at(t);
    if (std::abs(nearest.at - t) <= same_parameter * (edge_->last - edge_->first))
        return nearest.node;
    const int node = outline.add_node(edge_->point(t).head<2>());
    const auto place = std::upper_bound(breaks_.begin(), breaks_.end(), t,
                                        [](double value, const Break& b) { return value < b.at; });
    breaks_.insert(place, {t, node, 0});
    return node;
}

void EdgeCoverage::add(const EdgeStretch& stretch) {
    prepare();
    Break& start = break_at(stretch.from);
    Break& end = break_at(stretch.to);
    if (&start == &end) return;
    start.change += stretch.weight;
    end.change -= stretch.weight;
}

void EdgeCoverage::emit(double tolerance, const Provenance& provenance, Outline& outline) const {
    if (edge_->degenerate()) return;
    if (breaks_.empty()) {
        if (whole_ != 0)
            outline.add(project_edge(*edge_, edge_->first, edge_->last, tolerance), start_node_,
                        end_node_, whole_, provenance);
        return;
    }
    int weight = whole_;
    for (std::size_t i = 0; i + 1 < breaks_.size(); ++i) {
        weight += breaks_[i].change;
        if (weight == 0) continue;
        const Break &from = breaks_[i], &to = breaks_[i + 1];
        outline.add(project_edge(*edge_, from.at, to.at, tolerance), from.node, to.node, weight,
                    provenance);
    }
}

}  // namespace planform::flatten
