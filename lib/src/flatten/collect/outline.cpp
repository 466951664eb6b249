#include "flatten/collect/outline.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <limits>
#include <map>
#include <string>
#include <utility>

#include "merge/loop_profiles.hpp"
#include "planform/error.hpp"
#include "proof/winding_law.hpp"

namespace planform::flatten {
namespace {

/// Ends nearer than this (mm) are one place: the confusion of common solid modellers is 1e-7 mm.
constexpr double same_place = 2e-7;

/// Gaps up to this (mm) are never asked about: real files miss their vertices by as much, and no
/// body is so small that it would show.
constexpr double never_seen = 1e-5;

/// Widest gap (mm) between an edge and its vertex that is bridged: of the order of a kerf (common
/// practice, no source).
constexpr double widest_bridge = 0.1;

/// Of the tolerance: where the law of winding is broken, curves are arranged anew so finely.
constexpr double finer = 0.25;

std::string name_before(int solid, const std::vector<std::string>& solid_names) {
    const auto index = static_cast<std::size_t>(solid);
    return index < solid_names.size() ? "solid \"" + solid_names[index] + "\": " : std::string();
}

std::string describe(const Provenance& provenance, const std::vector<std::string>& solid_names) {
    std::string text = name_before(provenance.solid, solid_names);
    text += provenance.kind == Provenance::Kind::edge ? "edge " : "face ";
    return text + std::to_string(provenance.entity) + ": ";
}

/// arrange(), its failures with the name of what is next to them.
std::vector<arrange::Loop> arrange_named(const Outline& outline, const arrange::Options& options,
                                         const std::vector<std::string>& solid_names) {
    try {
        return arrange::arrange(outline.input(), options);
    } catch (const arrange::ArrangementError& error) {
        throw GeometryError(
            error.kind(),
            describe(outline.nearest_provenance(error.place()), solid_names) + error.what());
    }
}

/// The solid that all curves of a loop come from; -1 if there are several.
int common_solid(const arrange::Loop& loop, const Outline& outline) {
    const int solid = outline.provenance(loop.tags.front()).solid;
    const bool same = std::all_of(loop.tags.begin(), loop.tags.end(),
                                  [&](int tag) { return outline.provenance(tag).solid == solid; });
    return same ? solid : -1;
}

}  // namespace

int Outline::add_node(const Point2& position) {
    input_.nodes.push_back(position);
    united_with_.push_back(static_cast<int>(input_.nodes.size()) - 1);
    return united_with_.back();
}

int Outline::free_node(const Point2& position) {
    for (const int node : free_nodes_)
        if ((this->position(node) - position).norm() < same_place) return node;
    free_nodes_.push_back(add_node(position));
    return free_nodes_.back();
}

int Outline::root(int node) const {
    while (united_with_[static_cast<std::size_t>(node)] != node) {
        int& next = united_with_[static_cast<std::size_t>(node)];
        next = united_with_[static_cast<std::size_t>(next)];
        node = next;
    }
    return node;
}

void Outline::add(const std::vector<Curve>& curves, int start_node, int end_node, int weight,
                  const Provenance& provenance, const std::optional<Point2>& place) {
    if (curves.empty()) {
        if (std::max(start_node, end_node) < 0) return;
        if (place && start_node < 0) start_node = free_node(*place);
        if (place && end_node < 0) end_node = free_node(*place);
        if (std::min(start_node, end_node) < 0) return;
        const int a = root(start_node), b = root(end_node);
        united_with_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
        return;
    }
    if (start_node < 0) start_node = free_node(start_point(curves.front()));
    if (end_node < 0) end_node = free_node(end_point(curves.back()));
    const int tag = static_cast<int>(provenances_.size());
    provenances_.push_back(provenance);
    const auto append = [&](const Curve& curve, int from, int to) {
        input_.curves.push_back({curve, from, to, weight, operand_, tag});
    };
    int from = lead_to(start_point(curves.front()), start_node, provenance,
                       [&](const Point2& at, int node) {
                           append(Line{position(start_node), at}, start_node, node);
                       });
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const bool last = i + 1 == curves.size();
        int to = end_node;
        if (last) {
            // Written after the curve, so that the chain stays head to tail.
            to = lead_to(end_point(curves[i]), end_node, provenance, [](const Point2&, int) {});
        } else {
            to = add_node(end_point(curves[i]));
        }
        append(curves[i], from, to);
        if (last && to != end_node)
            append(Line{end_point(curves[i]), position(end_node)}, to, end_node);
        from = to;
    }
}

int Outline::lead_to(const Point2& place, int node, const Provenance& provenance,
                     const std::function<void(const Point2&, int)>& connect) {
    if ((place - position(node)).norm() <= same_place) return node;
    gaps_.push_back({{place, position(node)}, provenance});
    const int between = add_node(place);
    connect(place, between);
    return between;
}

double Outline::extent(int solid) const {
    Box2 box;
    for (const arrange::DirectedCurve& curve : input_.curves)
        if (provenance(curve.tag).solid == solid) box.extend(bounds(curve.curve));
    return box.isEmpty() ? 0.0 : box.sizes().maxCoeff();
}

void Outline::check_bridged_gaps(double tolerance) {
    const auto widest = std::max_element(
        gaps_.begin(), gaps_.end(),
        [](const BridgedGap& a, const BridgedGap& b) { return a.width() < b.width(); });
    if (widest == gaps_.end()) return;
    if (widest->width() <= std::min(tolerance, never_seen)) return;
    if (widest->width() <= widest_silent_gap(tolerance, extent(widest->provenance.solid))) return;
    if (widest->width() > widest_bridge)
        throw GeometryError(
            ErrorKind::contour_not_closed,
            description_of(*widest) + "; repair the model where its edges meet there");
    add_note(description_of(*widest) +
             "; the gap was closed by a straight line, which lies inside the outline");
}

void Outline::check_visible_gaps(const std::vector<arrange::Loop>& loops, double tolerance,
                                 const std::vector<std::string>& solid_names) const {
    std::map<int, double> extents;
    const auto allowed = [&](int solid) {
        if (tolerance <= never_seen) return tolerance;
        const auto [place, is_new] = extents.try_emplace(solid, 0.0);
        if (is_new) place->second = extent(solid);
        return widest_silent_gap(tolerance, place->second);
    };
    std::vector<BridgedGap> wide;
    std::copy_if(gaps_.begin(), gaps_.end(), std::back_inserter(wide), [&](const BridgedGap& gap) {
        return gap.width() > std::min(tolerance, never_seen);
    });
    const BridgedGap* gap =
        first_visible_gap(wide, loops, allowed, [&](int tag) { return provenance(tag); });
    if (gap == nullptr) return;
    throw GeometryError(ErrorKind::contour_not_closed,
                        name_before(gap->provenance.solid, solid_names) + description_of(*gap) +
                            ", which the outline shows; repair the model where its edges meet "
                            "there, or allow a wider tolerance than that");
}

void Outline::append(const Outline& other) {
    const auto node_shift = static_cast<int>(input_.nodes.size());
    const auto tag_shift = static_cast<int>(provenances_.size());
    input_.nodes.insert(input_.nodes.end(), other.input_.nodes.begin(), other.input_.nodes.end());
    for (const int node : other.united_with_) united_with_.push_back(node + node_shift);
    for (const int node : other.free_nodes_) free_nodes_.push_back(node + node_shift);
    for (arrange::DirectedCurve curve : other.input_.curves) {
        curve.start_node += node_shift;
        curve.end_node += node_shift;
        curve.tag += tag_shift;
        input_.curves.push_back(std::move(curve));
    }
    provenances_.insert(provenances_.end(), other.provenances_.begin(), other.provenances_.end());
    gaps_.insert(gaps_.end(), other.gaps_.begin(), other.gaps_.end());
    notes_.insert(notes_.end(), other.notes_.begin(), other.notes_.end());
    places_.insert(places_.end(), other.places_.begin(), other.places_.end());
    proof_.add(other.proof_);
}

Provenance Outline::nearest_provenance(const Point2& place) const {
    Provenance nearest;
    double least = std::numeric_limits<double>::infinity();
    for (const arrange::DirectedCurve& c : input_.curves) {
        if (bounds(c.curve).exteriorDistance(place) >= least) continue;
        const double distance =
            (point_at(c.curve, nearest_parameter(c.curve, place)) - place).norm();
        if (distance >= least) continue;
        least = distance;
        nearest = provenance(c.tag);
    }
    return nearest;
}

const arrange::Input& Outline::input() const {
    for (arrange::DirectedCurve& curve : input_.curves) {
        curve.start_node = root(curve.start_node);
        curve.end_node = root(curve.end_node);
    }
    return input_;
}

std::vector<Profile> unite(const Outline& outline, double tolerance,
                           const std::vector<std::string>& solid_names, const merge::Inside& inside,
                           Verify verify, Proof* proof) {
    if (outline.empty()) return {};
    const auto name_of = [&](const arrange::Loop& loop) {
        const int solid = common_solid(loop, outline);
        return solid < 0 ? std::string() : solid_names[static_cast<std::size_t>(solid)];
    };
    const auto proven = [&](const arrange::Options& options) {
        std::vector<arrange::Loop> loops = arrange_named(outline, options, solid_names);
        outline.check_visible_gaps(loops, tolerance, solid_names);
        std::vector<Profile> profiles = merge::profiles_of(
            std::move(loops), name_of, [&outline](int tag) { return outline.provenance(tag); });
        const proof::Asked asked =
            proof::check_winding(outline.input(), inside, profiles, tolerance, verify);
        if (proof != nullptr)
            proof->add("winding of curves", asked.checks, asked.largest_deviation);
        return profiles;
    };
    arrange::Options options;
    options.tolerance = tolerance;
    options.inside = inside;
    options.unites_strands = true;
    try {
        return proven(options);
    } catch (const proof::WindingBreach&) {
        options.tolerance = finer * tolerance;
        options.unites_strands = false;
    }
    try {
        return proven(options);
    } catch (const proof::WindingBreach& breach) {
        throw proof::WindingBreach(
            describe(outline.nearest_provenance(breach.place()), solid_names) + breach.what(),
            breach.place());
    }
}

void check_tolerance(double tolerance) {
    if (!(tolerance > 0.0) || !std::isfinite(tolerance))
        throw GeometryError(ErrorKind::invalid_argument,
                            "tolerance must be a positive, finite number of millimetres");
}

}  // namespace planform::flatten
