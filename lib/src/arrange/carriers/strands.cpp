#include "arrange/carriers/strands.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "arrange/carriers/carrier_places.hpp"
#include "arrange/carriers/leads.hpp"
#include "curve/bisection.hpp"
#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"

namespace planform::arrange {
namespace {

/// A piece that runs along another one for a part of its way only must do so for this many times
/// the distance: what crosses at a small angle is let alone.
constexpr double shortest = 1000.0;
/// Nodes on a curve within this many times the distance are one.
constexpr double one_node = 4.0;
/// Samples a piece has at the least, and a span of its spline.
constexpr int places_of_piece = 64;
constexpr int places_of_span = 8;

/// A place on a piece.
struct Sample {
    double parameter;
    Point2 point;
};

/// A piece with places all along it.
struct Strand {
    std::size_t piece;
    std::vector<Sample> samples;
    double length;
};

/// A node that lies on a guide.
struct GuideNode {
    double parameter;
    int node;
};

/// A stretch that takes the place of others which run along it.
struct Guide {
    std::size_t strand;
    int carrier;
    double from;
    double to;
    std::vector<GuideNode> nodes;
};

/// What a piece adds along a guide, between two of its nodes.
struct Share {
    std::size_t guide;
    double from;  ///< parameters on the guide, descending if it runs against it
    double to;
    Winding weight;
    int tag;
};

/// A part of a strand, [from, to] of its own parameters, that runs along a guide.
struct StrandStretch {
    double from;
    double to;
    std::size_t guide;
    double first;  ///< the feet of its ends on the guide
    double last;
};

class Bundling {
  public:
    Bundling(CarrierSet& set, const std::vector<char>& is_strand, double near)
        : set_(set), near_(near) {
        for (std::size_t i = 0; i < set.pieces.size(); ++i) {
            const auto carrier = static_cast<std::size_t>(set.pieces[i].carrier);
            if (is_strand[carrier] && set.carriers[carrier].kind == Carrier::Kind::spline)
                add_strand(i);
        }
    }

    /// False if what is left is not what was there.
    bool run() {
        if (strands_.size() < 2) return true;
        const std::vector<Piece> before = set_.pieces;
        guides_of_.resize(strands_.size());
        const std::vector<Box2> boxes = boxes_of_samples();
        const grid::BoxGrid on_grid(boxes);
        const grid::BoxTree tree(on_grid(boxes));
        on_grid_ = &on_grid;
        tree_ = &tree;
        for (const std::size_t s : longest_first()) lay(s);
        put_together();
        return keeps_areas(before);
    }

  private:
    const Carrier& carrier(int index) const {
        return set_.carriers[static_cast<std::size_t>(index)];
    }
    const Carrier& carrier(const Guide& guide) const { return carrier(guide.carrier); }
    const Piece& piece(const Strand& strand) const { return set_.pieces[strand.piece]; }
    const Point2& position(int node) const { return set_.nodes[static_cast<std::size_t>(node)]; }

    void add_strand(std::size_t index) {
        const Piece& p = set_.pieces[index];
        const Carrier& c = carrier(p.carrier);
        // A span of higher degree may turn oftener.
        int steps = std::max(places_of_span, 2 * std::get<Spline>(c.curve).degree);
        const auto spans = static_cast<int>(places_along(c, p.from, p.to, 1).size()) - 1;
        steps = std::max(steps, (places_of_piece + spans - 1) / spans);
        Strand strand{index, {}, 0.0};
        for (const double t : places_along(c, p.from, p.to, steps)) {
            strand.samples.push_back({t, c.position(t)});
            if (strand.samples.size() > 1)
                strand.length +=
                    (strand.samples.back().point - strand.samples.end()[-2].point).norm();
        }
        strands_.push_back(std::move(strand));
    }

    /// Of what lies between two samples of a strand that follow one another.
    std::vector<Box2> boxes_of_samples() {
        std::vector<Box2> boxes;
        for (std::size_t s = 0; s < strands_.size(); ++s) {
            const std::vector<Sample>& samples = strands_[s].samples;
            for (std::size_t k = 0; k + 1 < samples.size(); ++k) {
                Box2 box(samples[k].point);
                box.extend(samples[k + 1].point);
                // A curve bulges between samples by about an eighth of how its steps change.
                const Vector2 step = samples[k + 1].point - samples[k].point;
                const Vector2 before =
                    k > 0 ? Vector2(samples[k].point - samples[k - 1].point) : step;
                const Vector2 grown =
                    Vector2::Constant(2.0 * near_ + 0.25 * (step - before).norm());
                boxes.emplace_back(box.min() - grown, box.max() + grown);
                sample_of_box_.push_back({s, k});
            }
        }
        return boxes;
    }

    std::vector<std::size_t> longest_first() const {
        std::vector<std::size_t> order(strands_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return strands_[a].length > strands_[b].length;
        });
        return order;
    }

    /// Foot of a point on a guide, if it is near enough; `guess`: a parameter beside it.
    std::optional<double> foot(const Guide& guide, const Point2& point, double guess) const {
        return foot(carrier(guide), guide.from, guide.to, point, guess, near_);
    }

    /// Foot of a point on the part [from, to] of a carrier, if it is within `near`.
    std::optional<double> foot(const Carrier& c, double from, double to, const Point2& point,
                               double guess, double near) const {
        double at = std::clamp(guess, from, to);
        for (int step = 0; step < 8; ++step) {
            const Vector2 off = point - c.position(at), along = c.direction(at);
            const double square = along.squaredNorm();
            if (!(square > 0.0)) return std::nullopt;
            const double change = std::clamp(at + off.dot(along) / square, from, to) - at;
            at += change;
            // The last step of Newton's method leaves next to nothing.
            if (std::abs(change) * std::sqrt(square) > 0.01 * near_) continue;
            return (point - c.position(at)).norm() <= near ? std::optional(at) : std::nullopt;
        }
        return std::nullopt;
    }

    /// Guides that a place of a strand lies on, each with the foot.
    std::vector<std::pair<std::size_t, double>> guides_at(const Point2& point) const {
        std::vector<std::pair<std::size_t, double>> found;
        tree_->for_each_overlap((*on_grid_)(Box2(point)), [&](std::int32_t box) {
            const auto [s, k] = sample_of_box_[static_cast<std::size_t>(box)];
            const double first = strands_[s].samples[k].parameter;
            const double last = strands_[s].samples[k + 1].parameter;
            for (const std::size_t g : guides_of_[s]) {
                const Guide& guide = guides_[g];
                if (last < guide.from || guide.to < first) continue;
                if (const auto at = foot(guide, point, 0.5 * (first + last)))
                    found.emplace_back(g, *at);
            }
        });
        std::sort(found.begin(), found.end());
        return found;
    }

    /// Does a guide keep near to a strand, too, between the feet `first` and `last` of its places
    /// `from` and `to`? What a guide does between two samples of the strand is seen by its own
    /// samples only.
    bool keeps_to(const Strand& strand, double from, double to, const Guide& guide, double first,
                  double last) const {
        const Carrier& own = carrier(piece(strand).carrier);
        const auto [low, high] = std::minmax(first, last);
        const std::vector<Sample>& samples = strands_[guide.strand].samples;
        auto sample = std::upper_bound(samples.begin(), samples.end(), low,
                                       [](double t, const Sample& s) { return t < s.parameter; });
        for (; sample != samples.end() && sample->parameter < high; ++sample) {
            const double share = (sample->parameter - first) / (last - first);
            const double guess = from + share * (to - from);
            if (!foot(own, from, to, sample->point, guess, 2.0 * near_)) return false;
        }
        return true;
    }

    /// The stretch of a strand that begins at `from` (before sample `next`) and follows a guide.
    StrandStretch followed(const Strand& strand, double from, std::size_t next, std::size_t g,
                           double first) const {
        const Guide& guide = guides_[g];
        const Carrier& own = carrier(piece(strand).carrier);
        const double along = own.direction(from).dot(carrier(guide).direction(first));
        const double sense = along < 0.0 ? -1.0 : 1.0;
        StrandStretch stretch{from, from, g, first, first};
        double step = 0.0;
        const auto on_guide = [&](const Point2& point) -> std::optional<double> {
            const auto at = foot(guide, point, stretch.last + step);
            return at && (*at - stretch.last) * sense >= 0.0 ? at : std::nullopt;
        };
        for (std::size_t k = next; k < strand.samples.size(); ++k) {
            const Sample& sample = strand.samples[k];
            if (const auto at = on_guide(sample.point);
                at && keeps_to(strand, stretch.to, sample.parameter, guide, stretch.last, *at)) {
                step = *at - stretch.last;
                stretch.to = sample.parameter;
                stretch.last = *at;
                continue;
            }
            // It leaves the guide on the way.
            constexpr int halvings = 30;
            step = 0.0;
            const double leaves =
                detail::bisected(stretch.to, sample.parameter, halvings, [&](double t) {
                    const auto at = on_guide(own.position(t));
                    return at && keeps_to(strand, stretch.to, t, guide, stretch.last, *at);
                }).first;
            if (const auto at = on_guide(own.position(leaves));
                at && keeps_to(strand, stretch.to, leaves, guide, stretch.last, *at)) {
                stretch.to = leaves;
                stretch.last = *at;
            }
            break;
        }
        return stretch;
    }

    double length(const StrandStretch& stretch) const {
        const Carrier& c = carrier(guides_[stretch.guide]);
        return c.extent(stretch.first, stretch.last);
    }

    /// The longest stretch that begins at a place.
    std::optional<StrandStretch> longest_from(const Strand& strand, double from,
                                              const Point2& point, std::size_t next) const {
        std::optional<StrandStretch> best;
        for (const auto& [g, at] : guides_at(point)) {
            const StrandStretch stretch = followed(strand, from, next, g, at);
            if (!is_nothing(strand, from, stretch.to) && (!best || stretch.to > best->to))
                best = stretch;
        }
        return best;
    }

    /// Where, from a place that lies on no guide on, a stretch begins that was found further on.
    double entry(const Strand& strand, double free, const StrandStretch& stretch) const {
        const Carrier& own = carrier(piece(strand).carrier);
        constexpr int halvings = 30;
        const Guide& guide = guides_[stretch.guide];
        return detail::bisected(free, stretch.from, halvings,
                                [&](double t) {
                                    const auto at = foot(guide, own.position(t), stretch.first);
                                    return !at || !keeps_to(strand, t, stretch.from, guide, *at,
                                                            stretch.first);
                                })
            .second;
    }

    std::vector<StrandStretch> stretches_of(const Strand& strand) const {
        std::vector<StrandStretch> found;
        const Carrier& own = carrier(piece(strand).carrier);
        const std::size_t count = strand.samples.size();
        double at = strand.samples.front().parameter;
        std::size_t next = 1;        // sample
        std::optional<double> free;  // the last place that lies on no guide
        while (next < count) {
            if (auto stretch = longest_from(strand, at, own.position(at), next)) {
                if (free) {
                    const double from = entry(strand, *free, *stretch);
                    if (const auto first =
                            foot(guides_[stretch->guide], own.position(from), stretch->first)) {
                        stretch->from = from;
                        stretch->first = *first;
                    }
                }
                found.push_back(*stretch);
                at = stretch->to;
                while (next < count && strand.samples[next].parameter <= at) ++next;
                free.reset();
            } else {
                free = at;
                at = strand.samples[next++].parameter;
            }
        }
        return found;
    }

    /// Without those that are short for no good reason.
    std::vector<StrandStretch> kept(const Strand& strand,
                                    std::vector<StrandStretch> stretches) const {
        double at = piece(strand).from;
        bool is_covered = true;
        for (const StrandStretch& s : stretches) {
            is_covered = is_covered && is_nothing(strand, at, s.from);
            at = s.to;
        }
        if (is_covered && is_nothing(strand, at, piece(strand).to)) return stretches;
        std::erase_if(stretches,
                      [&](const StrandStretch& s) { return length(s) < shortest * near_; });
        return stretches;
    }

    /// Is a part of a strand too short to be one?
    bool is_nothing(const Strand& strand, double from, double to) const {
        return from == to || carrier(piece(strand).carrier).extent(from, to) <= one_node * near_;
    }

    /// Are two places of a guide one, as far as nodes go? Its ends may meet.
    bool are_one(const Guide& guide, double a, double b) const {
        return carrier(guide).extent(a, b) <= 2.0 * one_node * near_;
    }

    /// The node of a guide at a parameter.
    GuideNode node_on(std::size_t g, double parameter) {
        Guide& guide = guides_[g];
        const Point2 point = carrier(guide).position(parameter);
        std::optional<GuideNode> best;
        double nearest = one_node * near_;
        for (const GuideNode& node : guide.nodes) {
            const double distance = (position(node.node) - point).norm();
            if (distance > nearest || (best && distance == nearest)) continue;
            if (!are_one(guide, node.parameter, parameter)) continue;
            nearest = distance;
            best = node;
        }
        if (best) return *best;
        const GuideNode made{parameter, static_cast<int>(set_.nodes.size())};
        set_.nodes.push_back(point);
        guide.nodes.push_back(made);
        return made;
    }

    /// The node of a guide beside a node of a chain, always the same.
    GuideNode beside(int node, std::size_t g, double parameter) {
        const auto known = beside_.find({node, g});
        if (known != beside_.end() && are_one(guides_[g], known->second.parameter, parameter))
            return known->second;
        const GuideNode found =
            node_on(g, foot(guides_[g], position(node), parameter).value_or(parameter));
        beside_.try_emplace({node, g}, found);
        return found;
    }

    /// A strand becomes shares of guides where it runs along these, and guides elsewhere.
    void lay(std::size_t s) {
        const Strand& strand = strands_[s];
        const Piece own = piece(strand);
        const std::vector<StrandStretch> stretches = kept(strand, stretches_of(strand));
        double at = own.from;
        int node = own.start_node;
        for (const StrandStretch& stretch : stretches) {
            if (!is_nothing(strand, at, stretch.from))
                node = lay_free(s, at, stretch.from, node, -1);
            const GuideNode first = beside(node, stretch.guide, stretch.first);
            lead_over(node, first.node, own);
            const bool is_last = is_nothing(strand, stretch.to, own.to);
            const GuideNode last = is_last ? beside(own.end_node, stretch.guide, stretch.last)
                                           : node_on(stretch.guide, stretch.last);
            if (first.parameter != last.parameter)
                shares_.push_back(
                    {stretch.guide, first.parameter, last.parameter, own.weight, own.tag});
            node = last.node;
            at = stretch.to;
        }
        if (!is_nothing(strand, at, own.to))
            lay_free(s, at, own.to, node, own.end_node);
        else
            lead_over(node, own.end_node, own);
    }

    /// A part of a strand that runs along nothing is a guide for others. `end`: its node, or -1
    /// for a new one, which is returned.
    int lay_free(std::size_t s, double from, double to, int node, int end) {
        const Piece own = piece(strands_[s]);
        const Carrier& c = carrier(own.carrier);
        const auto new_node = [&](double parameter) {
            set_.nodes.push_back(c.position(parameter));
            return static_cast<int>(set_.nodes.size()) - 1;
        };
        const int first = from == own.from ? own.start_node : new_node(from);
        lead_over(node, first, own);
        if (end < 0) end = new_node(to);
        guides_of_[s].push_back(guides_.size());
        shares_.push_back({guides_.size(), from, to, own.weight, own.tag});
        guides_.push_back({s, own.carrier, from, to, {{from, first}, {to, end}}});
        return end;
    }

    void lead_over(int from, int to, const Piece& own) {
        if (from != to) leads_.add(from, to, own.weight, own.tag);
    }

    /// Chains that close enclose as much as before, but for the strips that strands were moved
    /// over.
    bool keeps_areas(const std::vector<Piece>& before) const {
        const Point2 pivot = strands_.front().samples.front().point;
        double moved = 0.0;
        for (const Strand& strand : strands_) {
            const Winding& weight = before[strand.piece].weight;
            moved += (std::abs(weight[0]) + std::abs(weight[1])) * (strand.length + near_);
        }
        const auto sum = [&](const std::vector<Piece>& pieces, std::size_t operand) {
            double area = 0.0;
            for (const Piece& p : pieces)
                if (p.weight[operand] != 0)
                    area += p.weight[operand] *
                            swept_area(carrier(p.carrier).piece(p.from, p.to), pivot);
            return area;
        };
        for (std::size_t k = 0; k < Winding{}.size(); ++k)
            if (!(std::abs(sum(before, k) - sum(set_.pieces, k)) <= 4.0 * near_ * moved))
                return false;
        return true;
    }

    void put_together() {
        std::vector<char> is_laid(set_.pieces.size(), 0);
        for (const Strand& strand : strands_) is_laid[strand.piece] = 1;
        std::vector<Piece> pieces;
        for (std::size_t i = 0; i < set_.pieces.size(); ++i)
            if (!is_laid[i]) pieces.push_back(set_.pieces[i]);
        std::stable_sort(shares_.begin(), shares_.end(),
                         [](const Share& a, const Share& b) { return a.guide < b.guide; });
        auto share = shares_.begin();
        for (std::size_t g = 0; g < guides_.size(); ++g) {
            const auto first = share;
            while (share != shares_.end() && share->guide == g) ++share;
            add_pieces(guides_[g], {first, share}, pieces);
        }
        set_.pieces = std::move(pieces);
        leads_.append_to(set_);
    }

    /// What lies between the nodes of a guide, with the shares over it.
    static void add_pieces(Guide& guide, const std::vector<Share>& shares,
                           std::vector<Piece>& pieces) {
        std::sort(guide.nodes.begin(), guide.nodes.end(),
                  [](const GuideNode& a, const GuideNode& b) { return a.parameter < b.parameter; });
        for (std::size_t k = 0; k + 1 < guide.nodes.size(); ++k) {
            const auto& [from, start_node] = guide.nodes[k];
            const auto& [to, end_node] = guide.nodes[k + 1];
            Piece piece{guide.carrier, from, to, start_node, end_node, Winding{}, 0};
            bool is_first = true;
            for (const Share& share : shares) {
                const bool is_along = share.from <= from && to <= share.to;
                const bool is_against = share.to <= from && to <= share.from;
                if (!is_along && !is_against) continue;
                for (std::size_t w = 0; w < piece.weight.size(); ++w)
                    piece.weight[w] += is_along ? share.weight[w] : -share.weight[w];
                piece.tag = is_first ? share.tag : std::min(piece.tag, share.tag);
                is_first = false;
            }
            if (piece.weight != Winding{}) pieces.push_back(piece);
        }
    }

    CarrierSet& set_;
    double near_;
    std::vector<Strand> strands_;
    std::vector<std::pair<std::size_t, std::size_t>> sample_of_box_;
    const grid::BoxGrid* on_grid_ = nullptr;
    const grid::BoxTree* tree_ = nullptr;
    std::vector<Guide> guides_;
    std::vector<std::vector<std::size_t>> guides_of_;  ///< by strand
    std::vector<Share> shares_;
    std::map<std::pair<int, std::size_t>, GuideNode> beside_;  ///< by node and guide
    Leads leads_;
};

}  // namespace

bool unite_strands(CarrierSet& set, const std::vector<char>& is_strand, double near) {
    return Bundling(set, is_strand, near).run();
}

}  // namespace planform::arrange
