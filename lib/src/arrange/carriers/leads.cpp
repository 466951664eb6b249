#include "arrange/carriers/leads.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace planform::arrange {
namespace {

void append_line(int from, int to, const Winding& weight, int tag, CarrierSet& set) {
    const Point2 start = set.nodes[static_cast<std::size_t>(from)];
    const Point2 end = set.nodes[static_cast<std::size_t>(to)];
    const double length = (end - start).norm();
    const Vector2 along = length > 0.0 ? Vector2((end - start) / length) : Vector2::UnitX();
    // Two nodes in one place stay two: chords that shrink to a point are left out later.
    constexpr double least = 1e-12;
    const auto index = static_cast<int>(set.carriers.size());
    set.carriers.push_back({Carrier::Kind::line, Line{start, start + along}});
    set.pieces.push_back({index, 0.0, std::max(length, least), from, to, weight, tag});
}

}  // namespace

void Leads::add(int from, int to, const Winding& weight, int tag) {
    Lead& there = leads_[from].try_emplace(to, Lead{Winding{}, tag}).first->second;
    Lead& back = leads_[to].try_emplace(from, Lead{Winding{}, tag}).first->second;
    there.tag = back.tag = std::min(there.tag, tag);
    for (std::size_t k = 0; k < weight.size(); ++k) {
        there.weight[k] += weight[k];
        back.weight[k] -= weight[k];
    }
}

void Leads::append_to(CarrierSet& set) {
    for (auto& [node, others] : leads_)
        std::erase_if(others, [](const auto& lead) { return lead.second.weight == Winding{}; });
    std::vector<char> is_used(set.nodes.size(), 0);
    for (const Piece& p : set.pieces)
        is_used[static_cast<std::size_t>(p.start_node)] =
            is_used[static_cast<std::size_t>(p.end_node)] = 1;
    for (const auto& [node, others] : leads_)
        if (!is_used[static_cast<std::size_t>(node)]) pass_by(node);
    for (const auto& [node, others] : leads_)
        for (const auto& [other, lead] : others)
            if (node < other && lead.weight != Winding{})
                append_line(node, other, lead.weight, lead.tag, set);
}

void Leads::pass_by(int node) {
    const std::map<int, Lead> others = leads_[node];
    for (const auto& [other, lead] : others) leads_[other].erase(node);
    leads_[node].clear();
    for (const auto& [other, lead] : others)
        if (other != others.begin()->first)
            add(others.begin()->first, other, lead.weight, lead.tag);
}

}  // namespace planform::arrange
