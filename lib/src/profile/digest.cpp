/// The digest of a profile set: one sequence of integers for one geometry, hashed.
///
/// Each contour is brought to a form that doesn't depend on how it is written down: curves that are
/// lines or arcs count as such, neighbours on one line, circle or ellipse are merged, and the start
/// is the smallest vertex. Curves are then recorded by points on them, which stay well-conditioned
/// where centres don't (flat arcs), in steps of 1e-6 mm. Contours and profiles are sorted by what
/// is recorded.

#define XXH_INLINE_ALL
#include <xxhash.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "planform/profile.hpp"

namespace planform {
namespace {

/// Step of recorded coordinates, mm.
constexpr double resolution = 1e-6;
/// Distance in mm within which two curves lie on one line or circle: a hundredth of the step, far
/// above the rounding of coordinates.
constexpr double same_support = 1e-8;
/// Step of recorded knots (relative to the domain) and weights (relative to the first).
constexpr double shape_resolution = 1e-9;

using Record = std::vector<std::int64_t>;

/// What a number in a record is about; values are part of the digest and don't change.
enum Tag : std::int64_t {
    tag_line = 1,
    tag_arc = 2,
    tag_ellipse = 3,
    tag_spline = 4,
    tag_circle = 5,
    tag_full_ellipse = 6,
    tag_profile = 7,
    tag_mark = 8,
};

/// Nearest multiple of the step; -0 can't come out, as the result is an integer.
std::int64_t steps(double value, double step = resolution) {
    constexpr double largest = 9e18;
    return static_cast<std::int64_t>(std::llround(std::clamp(value / step, -largest, largest)));
}

void append(Record& record, const Point2& point) {
    record.push_back(steps(point.x()));
    record.push_back(steps(point.y()));
}

// --- merging -------------------------------------------------------------------------------------

std::optional<Curve> merged_lines(const Line& a, const Line& b) {
    const Vector2 chord = b.end - a.start;
    const double length = chord.norm();
    const bool onward = (a.end - a.start).dot(b.end - b.start) > 0.0;
    if (!onward || std::abs(cross(chord, a.end - a.start)) > same_support * length)
        return std::nullopt;
    return Line{a.start, b.end};
}

std::optional<Curve> merged_arcs(const Arc& a, const Arc& b) {
    if (a.sweep * b.sweep < 0.0 || (a.center - b.center).norm() > same_support ||
        std::abs(a.radius - b.radius) > same_support)
        return std::nullopt;
    return Arc{a.center, a.radius, a.start_angle, a.sweep + b.sweep};
}

std::optional<Curve> merged_ellipses(const EllipticalArc& a, const EllipticalArc& b) {
    const bool same_axes =
        std::min((a.major - b.major).norm(), (a.major + b.major).norm()) <= same_support &&
        std::abs(a.ratio - b.ratio) * a.major.norm() <= same_support;
    if (a.sweep * b.sweep < 0.0 || (a.center - b.center).norm() > same_support || !same_axes)
        return std::nullopt;
    return EllipticalArc{a.center, a.major, a.ratio, a.start_angle, a.sweep + b.sweep};
}

/// One curve for two neighbours with the same support, if they have.
std::optional<Curve> merged(const Curve& a, const Curve& b) {
    if (a.index() != b.index()) return std::nullopt;
    if (const Line* line = std::get_if<Line>(&a)) return merged_lines(*line, std::get<Line>(b));
    if (const Arc* arc = std::get_if<Arc>(&a)) return merged_arcs(*arc, std::get<Arc>(b));
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&a))
        return merged_ellipses(*arc, std::get<EllipticalArc>(b));
    return std::nullopt;
}

/// The contour's curves, each as its simplest kind and with neighbours merged, round the start too.
std::vector<Curve> merged_curves(const Contour& contour) {
    std::vector<Curve> result;
    for (const Curve& curve : contour.curves()) {
        Curve simplest = canonical(curve, same_support);
        const std::optional<Curve> both =
            result.empty() ? std::nullopt : merged(result.back(), simplest);
        if (both)
            result.back() = *both;
        else
            result.push_back(std::move(simplest));
    }
    while (result.size() > 1) {
        const std::optional<Curve> both = merged(result.back(), result.front());
        if (!both) break;
        result.front() = *both;
        result.pop_back();
    }
    return result;
}

// --- recording -----------------------------------------------------------------------------------

bool is_full_turn(double sweep) { return std::abs(sweep) >= 2.0 * pi * (1.0 - 1e-12); }

/// A whole circle: no vertex, no direction (the role of the contour gives that).
Record circle_record(const Arc& arc) {
    Record record{tag_circle};
    append(record, arc.center);
    record.push_back(steps(arc.radius));
    return record;
}

/// A whole ellipse by its centre and half its width along x, y and the diagonal, which stay
/// well-conditioned where the direction of the axes doesn't (nearly a circle).
Record full_ellipse_record(const EllipticalArc& arc) {
    const Vector2 minor = arc.ratio * Vector2(-arc.major.y(), arc.major.x());
    const Vector2 diagonal = Vector2(1.0, 1.0).normalized();
    Record record{tag_full_ellipse};
    append(record, arc.center);
    record.push_back(steps(std::hypot(arc.major.x(), minor.x())));
    record.push_back(steps(std::hypot(arc.major.y(), minor.y())));
    record.push_back(steps(std::hypot(diagonal.dot(arc.major), diagonal.dot(minor))));
    return record;
}

Record spline_record(const Spline& spline) {
    Record record{tag_spline};
    append(record, spline.poles.front());
    record.push_back(spline.degree);
    record.push_back(static_cast<std::int64_t>(spline.poles.size()));
    for (const Point2& pole : spline.poles) append(record, pole);
    const double first = spline.knots.front();
    const double size = spline.knots.back() - first;
    for (const double knot : spline.knots)
        record.push_back(steps((knot - first) / size, shape_resolution));
    for (const double weight : spline.weights)
        record.push_back(steps(weight / spline.weights.front(), shape_resolution));
    return record;
}

/// Tag, start, and points enough to tell curves of the kind apart; the end is the next start.
Record curve_record(const Curve& curve) {
    if (const Spline* spline = std::get_if<Spline>(&curve)) return spline_record(*spline);
    if (const Arc* arc = std::get_if<Arc>(&curve); arc && is_full_turn(arc->sweep))
        return circle_record(*arc);
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve);
        arc && is_full_turn(arc->sweep))
        return full_ellipse_record(*arc);
    constexpr std::array<Tag, 3> tags{tag_line, tag_arc, tag_ellipse};
    Record record{tags[curve.index()]};
    append(record, start_point(curve));
    if (!std::holds_alternative<Line>(curve)) append(record, point_at(curve, 0.5));
    if (std::holds_alternative<EllipticalArc>(curve)) {
        append(record, point_at(curve, 0.25));
        append(record, point_at(curve, 0.75));
    }
    return record;
}

/// The records in the order that starts at the smallest vertex; where a contour passes through it
/// more than once, the smallest of the sequences.
Record joined_from_smallest(const std::vector<Record>& records) {
    // Entries 1 and 2 of a record are its start.
    const auto start_before = [](const Record& a, const Record& b) {
        return std::lexicographical_compare(a.begin() + 1, a.begin() + 3, b.begin() + 1,
                                            b.begin() + 3);
    };
    const Record& smallest = *std::min_element(records.begin(), records.end(), start_before);
    Record best;
    for (std::size_t first = 0; first < records.size(); ++first) {
        if (start_before(smallest, records[first])) continue;
        Record sequence;
        for (std::size_t i = 0; i < records.size(); ++i) {
            const Record& record = records[(first + i) % records.size()];
            sequence.insert(sequence.end(), record.begin(), record.end());
        }
        if (best.empty() || sequence < best) best = std::move(sequence);
    }
    return best;
}

Record contour_record(const Contour& contour) {
    std::vector<Record> records;
    for (const Curve& curve : merged_curves(contour)) records.push_back(curve_record(curve));
    Record record{static_cast<std::int64_t>(records.size())};
    const Record sequence = joined_from_smallest(records);
    record.insert(record.end(), sequence.begin(), sequence.end());
    return record;
}

/// Tag and number of records, then each with its length, in ascending order.
Record group_record(Tag tag, std::vector<Record> records) {
    std::sort(records.begin(), records.end());
    Record group{tag, static_cast<std::int64_t>(records.size())};
    for (const Record& record : records) {
        group.push_back(static_cast<std::int64_t>(record.size()));
        group.insert(group.end(), record.begin(), record.end());
    }
    return group;
}

Record profile_record(const Profile& profile) {
    std::vector<Record> holes;
    for (const Contour& hole : profile.holes()) holes.push_back(contour_record(hole));
    Record record = contour_record(profile.outer());
    const Record inner = group_record(tag_profile, std::move(holes));
    record.insert(record.end(), inner.begin(), inner.end());
    return record;
}

/// A mark has no inside: its direction doesn't count.
Record mark_record(const Mark& mark) {
    return contour_record(mark.contour.area() < 0.0 ? mark.contour.reversed() : mark.contour);
}

/// The integers as bytes, lowest first on every machine.
std::vector<std::uint8_t> bytes_of(const Record& record) {
    std::vector<std::uint8_t> bytes;
    bytes.reserve(8 * record.size());
    for (const std::int64_t number : record)
        for (int shift = 0; shift < 64; shift += 8)
            bytes.push_back(static_cast<std::uint8_t>(static_cast<std::uint64_t>(number) >> shift));
    return bytes;
}

std::string hexadecimal(const XXH128_hash_t& hash) {
    XXH128_canonical_t canonical_hash;
    XXH128_canonicalFromHash(&canonical_hash, hash);
    constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (const unsigned char byte : canonical_hash.digest) {
        text.push_back(digits[byte >> 4]);
        text.push_back(digits[byte & 15]);
    }
    return text;
}

}  // namespace

std::string ProfileSet::digest() const {
    std::vector<Record> profiles;
    for (const Profile& profile : profiles_) profiles.push_back(profile_record(profile));
    std::vector<Record> marks;
    for (const Mark& mark : marks_) marks.push_back(mark_record(mark));
    Record record = group_record(tag_profile, std::move(profiles));
    const Record scored = group_record(tag_mark, std::move(marks));
    record.insert(record.end(), scored.begin(), scored.end());
    const std::vector<std::uint8_t> bytes = bytes_of(record);
    return hexadecimal(XXH3_128bits(bytes.data(), bytes.size()));
}

}  // namespace planform
