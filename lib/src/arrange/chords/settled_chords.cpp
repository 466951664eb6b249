#include "arrange/chords/settled_chords.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "curve/chords.hpp"
#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "grid/order.hpp"

namespace planform::arrange {
namespace {

/// Sine of 22.5 degrees: a circle begins as an octagon.
constexpr double first_sine = 0.3826834323650898;
/// Sine of a chord's parts as a share of its own.
constexpr double shorter = 0.5;

struct Chord {
    std::int32_t piece;
    double from;  ///< parameters on the carrier
    double to;
    Point2 start;
    Point2 end;
    Vector2 along;  ///< of length 1
    double length;
    double tolerance;          ///< bound on its distance from the curve, mm
    double sine;               ///< bound on that of the angle between it and the curve
    std::int32_t meeting;      ///< the last of its meetings, or -1
    std::int32_t replaced_in;  ///< the level in which shorter ones took its place, or -1
    std::int32_t first_part;   ///< these, one after the other
    std::int32_t last_part;
};

/// Another chord that is not proven to keep off, kept for chords that can be shorter: their parts
/// meet nothing else. If it crosses, then in a stretch of the chord, in mm along it. Of three
/// chords that cross each other the order along one tells how they lie.
struct Meeting {
    std::int32_t other;
    double first;
    double last;          ///< below `first`: no crossing
    std::int32_t before;  ///< another of the same chord, or -1
};

double distance_to(const Chord& chord, const Point2& point) {
    const double along = std::clamp(chord.along.dot(point - chord.start), 0.0, chord.length);
    return (chord.start + along * chord.along - point).norm();
}

/// Signed distances of a chord's ends from the line of another.
struct Sides {
    double start;
    double end;

    Sides(const Chord& of, const Chord& from)
        : start(cross(from.along, of.start - from.start)),
          end(cross(from.along, of.end - from.start)) {}

    bool are_beyond(double distance) const {
        return std::min(start, end) > distance || std::max(start, end) < -distance;
    }
    bool are_within(double distance) const {
        return std::max(std::abs(start), std::abs(end)) <= distance;
    }
    bool are_across(double distance) const {
        return std::min(start, end) < -distance && std::max(start, end) > distance;
    }
};

class Settling {
  public:
    Settling(const CarrierSet& set, double fine, double finest, double margin,
             std::size_t most_alike)
        : set_(set),
          fine_(fine),
          finest_(finest),
          margin_(margin),
          most_alike_(most_alike),
          alike_(set.carriers.size(), 0) {}

    /// Nothing if too many are alike.
    std::optional<Polylines> run() {
        begin();
        first_chords_ = static_cast<std::int32_t>(chords_.size());
        if (std::none_of(chords_.begin(), chords_.end(),
                         [&](const Chord& c) { return can_be_shorter(c); }))
            return polylines();
        chords_.reserve(3 * chords_.size());
        compare_all();
        compare_crossings();
        while (!wanted_.empty()) {
            if (alike_count_ > most_alike_) {
                for (const std::int32_t index : wanted_) mark_alike(index);
                return std::nullopt;
            }
            shorten();
            compare_crossings();
        }
        if (alike_count_ > most_alike_) return std::nullopt;
        return polylines();
    }

    std::vector<char> alike() && { return std::move(alike_); }

  private:
    const Piece& piece(const Chord& chord) const {
        return set_.pieces[static_cast<std::size_t>(chord.piece)];
    }
    const Carrier& carrier(const Chord& chord) const {
        return set_.carriers[static_cast<std::size_t>(piece(chord).carrier)];
    }
    Chord& chord(std::int32_t index) { return chords_[static_cast<std::size_t>(index)]; }
    const Chord& chord(std::int32_t index) const {
        return chords_[static_cast<std::size_t>(index)];
    }
    bool can_be_shorter(const Chord& chord) const { return chord.tolerance > finest_; }

    void begin() {
        for (std::size_t i = 0; i < set_.pieces.size(); ++i) {
            const Piece& p = set_.pieces[i];
            const Chord whole{static_cast<std::int32_t>(i),
                              p.from,
                              p.to,
                              set_.nodes[static_cast<std::size_t>(p.start_node)],
                              set_.nodes[static_cast<std::size_t>(p.end_node)],
                              Vector2::Zero(),
                              0.0,
                              0.0,
                              0.0,
                              -1,
                              -1,
                              -1,
                              -1};
            add_chords(whole, first_sine);
        }
    }

    /// The chords that take the place of one.
    void add_chords(const Chord& whole, double sine) {
        const Carrier& c = carrier(whole);
        if (c.kind == Carrier::Kind::line) {
            add_chord(whole);
            return;
        }
        const Interval range = domain(c.curve);
        const bool is_all =
            c.kind == Carrier::Kind::spline && whole.from == range.first && whole.to == range.last;
        const std::vector<detail::BoundedChord> parts =
            is_all ? detail::bounded_chords(c.curve, finest_, sine)
                   : detail::bounded_chords(c.piece(whole.from, whole.to), finest_, sine);
        Chord next = whole;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const bool is_last = i + 1 == parts.size();
            next.to = is_last           ? whole.to
                      : c.is_periodic() ? whole.from + parts[i].last * (whole.to - whole.from)
                                        : parts[i].last;
            next.end = is_last ? whole.end : c.position(next.to);
            next.tolerance = std::max(finest_, parts[i].deviation);
            next.sine = parts[i].sine;
            add_chord(next);
            next.from = next.to;
            next.start = next.end;
        }
    }

    void add_chord(Chord chord) {
        const Vector2 between = chord.end - chord.start;
        chord.length = between.norm();
        chord.along = chord.length > 0.0 ? Vector2(between / chord.length) : Vector2::Zero();
        if (chord.length == 0.0) chord.sine = 1.0;
        chords_.push_back(chord);
    }

    void compare_all() {
        std::vector<Box2> boxes;
        boxes.reserve(chords_.size());
        for (const Chord& c : chords_) {
            const Vector2 grown = Vector2::Constant(c.tolerance + margin_);
            boxes.emplace_back(c.start.cwiseMin(c.end) - grown, c.start.cwiseMax(c.end) + grown);
        }
        const grid::BoxGrid on_grid(boxes);
        const grid::BoxTree tree(on_grid(boxes));
        tree.for_each_pair([&](std::int32_t a, std::int32_t b) { compare(a, b); });
    }

    void compare(std::int32_t index_a, std::int32_t index_b) {
        const Chord &a = chord(index_a), &b = chord(index_b);
        if ((!can_be_shorter(a) && !can_be_shorter(b)) || are_one_simple_curve(a, b)) return;
        const double apart = a.tolerance + b.tolerance + margin_;
        const bool starts = a.start == b.start, ends = a.end == b.end;
        const bool joins = a.end == b.start, rejoins = a.start == b.end;
        if (starts || ends || joins || rejoins) {
            const bool in_one_place = starts + ends + joins + rejoins == 1;
            const double same_way = starts || ends ? 1.0 : -1.0;
            add_meeting(index_a, index_b, none);
            if (!in_one_place || !leave_apart(a, b, same_way)) want(index_a, index_b);
            return;
        }
        const Sides of_a(a, b), of_b(b, a);
        if (of_a.are_beyond(apart) || of_b.are_beyond(apart)) return;
        const double sine = std::abs(cross(a.along, b.along));
        if (of_a.are_across(apart) && of_b.are_across(apart) && sine > a.sine + b.sine) {
            const double at_a = a.length * of_a.start / (of_a.start - of_a.end);
            const double at_b = b.length * of_b.start / (of_b.start - of_b.end);
            const double reach = apart / sine;
            add_meeting(index_a, index_b, {at_a - reach, at_a + reach, at_b - reach, at_b + reach});
            return;
        }
        const bool chords_cross = of_a.are_across(0.0) && of_b.are_across(0.0);
        const double distance = std::min({distance_to(a, b.start), distance_to(a, b.end),
                                          distance_to(b, a.start), distance_to(b, a.end)});
        if (!chords_cross && distance > apart) return;
        add_meeting(index_a, index_b, none);
        const bool are_one = of_a.are_within(2.0 * margin_) && of_b.are_within(2.0 * margin_);
        if (are_one && std::max(a.tolerance, b.tolerance) <= fine_) {
            if (!are_splines_apart(a, b)) return;
            ++alike_count_;
            mark_alike(index_a);
            mark_alike(index_b);
            return;
        }
        want(index_a, index_b);
    }

    bool are_splines_apart(const Chord& a, const Chord& b) const {
        return piece(a).carrier != piece(b).carrier && carrier(a).kind == Carrier::Kind::spline &&
               carrier(b).kind == Carrier::Kind::spline;
    }

    void mark_alike(std::int32_t index) {
        if (carrier(chord(index)).kind == Carrier::Kind::spline)
            alike_[static_cast<std::size_t>(piece(chord(index)).carrier)] = 1;
    }

    /// Stretches of one line, circle or ellipse meet in their nodes at most.
    bool are_one_simple_curve(const Chord& a, const Chord& b) const {
        return piece(a).carrier == piece(b).carrier && carrier(a).kind != Carrier::Kind::spline;
    }

    /// From a common end both curves stay within wedges about their chords; `same_way`: -1 if one
    /// chord ends where the other begins.
    static bool leave_apart(const Chord& a, const Chord& b, double same_way) {
        const double sines = a.sine + b.sine;
        if (same_way * a.along.dot(b.along) < 0.0) return sines < 1.0;
        return std::abs(cross(a.along, b.along)) > sines;
    }

    /// Both have to be shorter, unless one is going to be: its parts will tell.
    void want(std::int32_t a, std::int32_t b) {
        if (chord(a).replaced_in >= 0 || chord(b).replaced_in >= 0) return;
        for (const std::int32_t index : {a, b}) {
            if (!can_be_shorter(chord(index)) || chord(index).replaced_in >= 0) continue;
            chord(index).replaced_in = level_;
            wanted_.push_back(index);
        }
    }

    /// Stretches of two chords in which they cross.
    struct Stretches {
        double first_a, last_a, first_b, last_b;
    };
    static constexpr Stretches none{1.0, 0.0, 1.0, 0.0};

    void add_meeting(std::int32_t a, std::int32_t b, const Stretches& stretches) {
        add_meeting(a, {b, stretches.first_a, stretches.last_a, -1});
        add_meeting(b, {a, stretches.first_b, stretches.last_b, -1});
    }

    void add_meeting(std::int32_t index, Meeting meeting) {
        Chord& c = chord(index);
        if (!can_be_shorter(c)) return;
        meeting.before = c.meeting;
        c.meeting = static_cast<std::int32_t>(meetings_.size());
        meetings_.push_back(meeting);
        if (meeting.first <= meeting.last) crossed_.push_back(index);
    }

    const Meeting& meeting(std::int32_t index) const {
        return meetings_[static_cast<std::size_t>(index)];
    }

    /// Others that cross a chord must do so in a certain order: their stretches of it must not
    /// overlap.
    void compare_crossings() {
        std::vector<Meeting> along;
        for (const std::int32_t index : crossed_) {
            if (chord(index).replaced_in >= 0) continue;
            along.clear();
            for (std::int32_t i = chord(index).meeting; i >= 0; i = meeting(i).before) {
                const Meeting& m = meeting(i);
                if (m.first <= m.last && chord(m.other).replaced_in < 0) along.push_back(m);
            }
            std::sort(along.begin(), along.end(), [](const Meeting& a, const Meeting& b) {
                return a.first != b.first ? a.first < b.first : a.other < b.other;
            });
            // Of those before, the one that reaches furthest.
            for (std::size_t i = 1, furthest = 0; i < along.size(); ++i) {
                if (along[i].first <= along[furthest].last) {
                    want(along[furthest].other, along[i].other);
                    want(index, index);
                    break;
                }
                if (along[i].last > along[furthest].last) furthest = i;
            }
        }
        crossed_.clear();
    }

    /// Puts shorter chords in the place of those that are wanted so. They are compared with what
    /// those met, or with the parts of that.
    void shorten() {
        const std::vector<std::int32_t> wanted = std::move(wanted_);
        wanted_.clear();
        const std::int32_t level = level_++;
        for (const std::int32_t index : wanted) {
            const Chord whole = chord(index);
            Chord part = whole;
            part.meeting = part.replaced_in = -1;
            const auto first = static_cast<std::int32_t>(chords_.size());
            add_chords(part, shorter * whole.sine);
            const auto last = static_cast<std::int32_t>(chords_.size());
            chord(index).first_part = first;
            chord(index).last_part = last;
            for (std::int32_t i = whole.meeting; i >= 0; i = meeting(i).before) {
                const std::int32_t other = meeting(i).other;
                const Chord& o = chord(other);
                if (o.replaced_in < 0 || o.replaced_in > level) {
                    for (std::int32_t k = first; k < last; ++k) compare(k, other);
                } else if (o.replaced_in == level && o.first_part >= 0) {
                    for (std::int32_t j = o.first_part; j < o.last_part; ++j)
                        for (std::int32_t k = first; k < last; ++k) compare(k, j);
                }
            }
        }
    }

    Polylines polylines() const {
        Polylines result;
        const std::size_t count = chords_.size() + set_.pieces.size();
        result.parameters.reserve(count);
        result.points.reserve(count);
        result.tolerances.reserve(count);
        std::int32_t next = 0;
        for (std::size_t i = 0; i < set_.pieces.size(); ++i) {
            result.first.push_back(result.points.size());
            const auto of_piece = static_cast<std::int32_t>(i);
            for (; next < first_chords_ && chord(next).piece == of_piece; ++next)
                append(next, result);
            const Chord& last = chord(next - 1);
            result.parameters.push_back(last.to);
            result.points.push_back(last.end);
            result.tolerances.push_back(0.0);
        }
        result.first.push_back(result.points.size());
        return result;
    }

    /// A chord, or what has taken its place.
    void append(std::int32_t index, Polylines& result) const {
        const Chord& c = chord(index);
        if (c.replaced_in >= 0) {
            for (std::int32_t part = c.first_part; part < c.last_part; ++part) append(part, result);
            return;
        }
        result.parameters.push_back(c.from);
        result.points.push_back(c.start);
        result.tolerances.push_back(c.tolerance);
    }

    const CarrierSet& set_;
    double fine_;
    double finest_;
    double margin_;
    std::size_t most_alike_;
    std::size_t alike_count_ = 0;
    std::vector<char> alike_;  // by carrier
    std::int32_t level_ = 0;
    std::int32_t first_chords_ = 0;  // so many came first; others are parts of them
    std::vector<Chord> chords_;
    std::vector<Meeting> meetings_;
    std::vector<std::int32_t> crossed_;  // chords with crossings since these were last compared
    std::vector<std::int32_t> wanted_;   // replaced by shorter ones in the next step
};

}  // namespace

Polylines settled_chords(const CarrierSet& set, double fine, double finest, double margin) {
    constexpr std::size_t any = std::numeric_limits<std::size_t>::max();
    return *Settling(set, fine, finest, margin, any).run();
}

std::optional<Polylines> settled_unless_alike(const CarrierSet& set, double fine, double finest,
                                              double margin, std::size_t most_alike,
                                              std::vector<char>& alike) {
    Settling settling(set, fine, finest, margin, most_alike);
    std::optional<Polylines> result = settling.run();
    alike = std::move(settling).alike();
    return result;
}

}  // namespace planform::arrange
