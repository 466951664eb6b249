#include "offset/distance_proof.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <memory>

#include "offset/separation.hpp"
#include "offset/smooth_curve.hpp"

namespace planform::offset_detail {
namespace {

/// So many curves are all asked, of the rest one in so many.
struct Share {
    std::size_t all_of;
    std::size_t one_in;
};
constexpr Share of_arranged{500, 8};
/// What went through no arrangement costs less than such a proof.
constexpr Share of_others{16, 32};

/// Sides are asked of every contour unless contours times curves are more: each costs as much as
/// there are curves around it.
constexpr std::size_t most_for_sides = 1000000;

/// mm that the nearest place of an outline may be off its distance: far above rounding, and what is
/// thinner is nothing.
constexpr double rounding = 1e-9;

/// Where curves are asked in turn, as shares of their domains: in the middle, and where what is
/// wrong at a corner shows.
constexpr std::array<double, 3> shares{0.5, 0.06, 0.94};

/// Picks the curves that are asked, evenly.
class Picker {
  public:
    Picker(std::size_t count, const Share& share)
        : step_(count <= share.all_of
                    ? 1
                    : count / (share.all_of + (count - share.all_of) / share.one_in)) {}
    bool next() { return seen_++ % step_ == 0; }

  private:
    std::size_t step_;
    std::size_t seen_ = 0;
};

class DistanceProof {
  public:
    DistanceProof(const Source& source, const LoopStyle& style, const Moved& moved, double slack)
        : source_(source),
          style_(style),
          loops_(moved.loops),
          slack_(slack),
          was_arranged_(moved.field == nullptr),
          places_(moved.has_short_bands ? shares.size() : 1),
          result_(was_arranged_ ? field_of(moved.loops) : moved.field) {
        bool is_first = true;
        for (const Chain& chain : source.chains) {
            elements_ += chain.elements.size();
            for (const Element& element : chain.elements) {
                if (is_first) common_ = element.distance;
                is_first = false;
                is_common_ = is_common_ && element.distance == common_;
                furthest_ = std::max(furthest_, std::abs(element.distance));
            }
        }
        const bool is_exact = is_common_ && style.corners.corners == Corners::round;
        reach_ = is_exact ? furthest_ : style.corners.limit * furthest_;
        for (const MovedLoop& one : loops_) curves_ += one.loop.curves.size();
    }

    std::optional<Breach> run() {
        look_along_result();
        if (!breach_) look_along_outlines();
        return breach_;
    }

  private:
    static std::shared_ptr<const LoopField> field_of(const std::vector<MovedLoop>& loops) {
        auto field = std::make_shared<LoopField>(0.0);
        for (const MovedLoop& moved : loops) field->add_loop(moved.loop.curves, true);
        field->index_curves();
        return field;
    }

    void look_along_result() {
        Picker picker(curves_, was_arranged_ ? of_arranged : of_others);
        std::size_t turn = 0;
        const bool asks_sides =
            was_arranged_ && is_exact() && loops_.size() * elements_ <= most_for_sides;
        for (const MovedLoop& moved : loops_) {
            if (asks_sides && !on_its_side(at(moved.loop.curves.front(), shares.front()))) return;
            for (const Curve& curve : moved.loop.curves) {
                if (!picker.next()) continue;
                for (std::size_t k = 0; k < places_; ++k)
                    if (!at_its_distance(at(curve, shares[turn++ % shares.size()]))) return;
            }
        }
    }

    bool is_material(const Point2& place) const {
        return source_.field->winding_but_for(-1, place) > 0;
    }

    bool on_its_side(const Point2& place) {
        // Nearer places may be taken for either side.
        if (furthest_ <= 2.0 * slack_ || is_material(place) == (common_ < 0.0)) return true;
        return broken(place, "it lies on the wrong side of the outline");
    }

    static Point2 at(const Curve& curve, double share) {
        const Interval range = domain(curve);
        return point_at(curve, range.first + share * (range.last - range.first));
    }

    bool at_its_distance(const Point2& place) {
        const LoopField& outlines = *source_.field;
        if (is_exact() && outlines.comes_within(place, furthest_ - slack_))
            return broken(place, "it comes nearer to the outline than it is moved");
        if (!outlines.comes_within(place, reach_ + slack_))
            return broken(place, "it lies further from the outline than it is moved");
        return true;
    }

    void look_along_outlines() {
        Picker picker(elements_, was_arranged_ ? of_arranged : of_others);
        std::size_t turn = 0;
        for (const Chain& chain : source_.chains) {
            const std::vector<Element>& elements = chain.elements;
            for (std::size_t i = 0; i < elements.size(); ++i) {
                if (!picker.next() && (i > 0 || !was_arranged_)) continue;
                const Element& after = elements[(i + 1) % elements.size()];
                for (std::size_t k = 0; k < places_; ++k)
                    if (!is_there_beside(elements, i, shares[turn++ % shares.size()])) return;
                if (!is_there_at_corner(elements[i], after)) return;
            }
        }
    }

    bool is_exact() const { return is_common_ && style_.corners.corners == Corners::round; }

    bool is_there_beside(const std::vector<Element>& elements, std::size_t i, double share) {
        const Element& element = elements[i];
        const Interval range = domain(element.curve);
        const double t = range.first + share * (range.last - range.first);
        const Vector2 along = derivative_at(element.curve, t);
        const double speed = along.norm();
        if (!(speed > 0.0)) return true;
        const Point2 foot = point_at(element.curve, t);
        const Vector2 out(along.y() / speed, -along.x() / speed);
        if (!is_exact() && !is_alone(elements, i, foot + element.distance * out)) return true;
        return is_there(foot, out, element.distance);
    }

    /// Has a curve nothing else about, nor a crease?
    bool is_alone(const std::vector<Element>& elements, std::size_t i, const Point2& place) const {
        if (source_.was_united) return false;
        const int tag = elements[i].tag;
        const std::size_t count = elements.size();
        if (count > 1 &&
            (elements[(i + 1) % count].tag == tag || elements[(i + count - 1) % count].tag == tag))
            return false;
        return !source_.field->comes_within(place, reach_ + 3.0 * slack_, tag);
    }

    bool is_there_at_corner(const Element& before, const Element& after) {
        if (!is_exact() || &before == &after) return true;
        const Place start = start_place(after.curve);
        const Vector2 sum = end_place(before.curve).normal() + start.normal();
        const double size = sum.norm();
        return !(size > 0.0) || is_there(start.point, sum / size, common_);
    }

    /// Does the result pass by the place at `distance` from a foot, if nothing is nearer to it, and
    /// what is a little further on is far enough from all outlines? Between the two their distance
    /// is the one wanted.
    bool is_there(const Point2& foot, const Vector2& out, double distance) {
        const double sign = distance < 0.0 ? -1.0 : 1.0;
        const Point2 place = foot + distance * out;
        const Point2 beyond = place + 2.0 * sign * slack_ * out;
        if (source_.field->comes_within(beyond, std::abs(distance) + slack_) ||
            result_->comes_within(place, 3.0 * slack_) ||
            source_.field->comes_within(place, std::abs(distance) - rounding) ||
            is_material(beyond) != (distance < 0.0))
            return true;
        return broken(place, "what lies at the distance from the outline is missing");
    }

    bool broken(const Point2& place, std::string law) {
        breach_ = Breach{place, std::move(law)};
        return false;
    }

    const Source& source_;
    const LoopStyle& style_;
    const std::vector<MovedLoop>& loops_;
    double slack_;
    bool was_arranged_;
    std::size_t places_;  ///< asked of each curve
    std::shared_ptr<const LoopField> result_;
    std::size_t elements_ = 0;
    std::size_t curves_ = 0;
    bool is_common_ = true;
    double common_ = 0.0;
    double furthest_ = 0.0;
    double reach_ = 0.0;
    std::optional<Breach> breach_;
};

}  // namespace

std::optional<Breach> breach_of(const Source& source, const LoopStyle& style, const Moved& moved,
                                double slack) {
    return DistanceProof(source, style, moved, slack).run();
}

}  // namespace planform::offset_detail
