#include "offset/short_bands.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace planform::offset_detail {
namespace {

/// Bands are not made lower than this multiple of the resolution of the arrangement.
constexpr double least_per_resolution = 20.0;
/// Something is nearer to a place if it is so by this share of the height.
constexpr double margin_per_height = 0.02;
/// A part is halved if its halves may need to reach only a quarter as far; not if it is short
/// beside its height and turns little (rad), nor more often than this.
constexpr double length_per_height = 0.25;
constexpr double little_spread = 0.2;
constexpr int most_band_halvings = 8;
/// So often parts that nothing is nearer to are halved all the same.
constexpr int halvings_to_look = 2;
/// Bounds are loose for what turns more (rad).
constexpr double most_band_spread = pi / 3.0;
/// Joins are looked at in fans that turn no more (rad).
constexpr double fan = pi / 6.0;

/// A part of a curve, or a corner with the directions it turns through.
struct Strip {
    Point2 start;
    Point2 end;
    Vector2 normal;  ///< to the right
    double spread;   ///< of the normals, rad
    double height;   ///< mm that the part lies within of its chord
};

Strip strip_of(const Atom& atom) {
    return {atom.start, atom.end, {atom.along.y(), -atom.along.x()}, atom.spread, atom.height};
}

Vector2 turned(const Vector2& v, double angle) { return Eigen::Rotation2Dd(angle) * v; }

/// The parts of a curve that the atoms are, with their parameters.
struct Part {
    Atom atom;
    double from;
    double to;
};

std::vector<Part> parts_of(const Curve& curve) {
    std::vector<Atom> atoms;
    append_atoms(curve, atoms);
    const Interval whole = domain(curve);
    std::vector<Part> parts;
    double from = whole.first;
    for (std::size_t i = 0; i < atoms.size(); ++i) {
        double to = whole.last;
        if (i + 1 < atoms.size()) {
            if (const Bow* bow = std::get_if<Bow>(&atoms[i].shape)) {
                const double first = std::get<Bow>(atoms.front().shape).from,
                             last = std::get<Bow>(atoms.back().shape).to;
                to = whole.first + (bow->to - first) / (last - first) * (whole.last - whole.first);
            } else if (const auto* piece = std::get_if<std::shared_ptr<const detail::BezierPiece>>(
                           &atoms[i].shape)) {
                to = (*piece)->last;
            }
        }
        parts.push_back({std::move(atoms[i]), from, to});
        from = to;
    }
    return parts;
}

/// Cuts the bands of one curve after the other short. Heights come in levels, each half of the one
/// before; the level of a part is the highest for which something is shown to be nearer all along,
/// or -1.
class Shortening {
  public:
    Shortening(const NearAtoms& outlines, double distance, double least)
        : outlines_(outlines), distance_(distance), least_(least) {}

    /// How far a part reaches, up to a parameter.
    struct Reach {
        double to;
        double distance;
    };

    std::vector<Reach> of(const Curve& curve) {
        reaches_.clear();
        for (const Part& part : parts_of(curve)) look_at(part, 0);
        return std::move(reaches_);
    }

    double of_join(const Point2& corner, const Vector2& before, double turn) {
        const int count = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / fan)));
        int level = level_;
        for (int i = 0; i < count; ++i)
            level =
                std::min(level, level_of({corner, corner, turned(before, turn * (i + 0.5) / count),
                                          0.5 * std::abs(turn) / count, 0.0}));
        return height(std::max(level, 0));
    }

  private:
    double height(int level) const { return std::ldexp(distance_, -level); }

    /// Neighbours have like levels: the search begins at the last.
    int level_of(const Strip& strip) {
        int level = std::max(level_, 0);
        if (has_nearer(strip, level)) {
            while (has_nearer(strip, level + 1)) ++level;
        } else {
            do --level;
            while (level >= 0 && !has_nearer(strip, level));
        }
        return level_ = level;
    }

    /// Is there, for every place at a height beside a strip, something that is nearer to it?
    bool has_nearer(const Strip& strip, int level) {
        const double h = height(level);
        // Without a direction nothing is known of where its places lie.
        if (strip.spread > most_band_spread || std::abs(h) < least_ || strip.normal.isZero(0.0))
            return false;
        const double radius = (1.0 - margin_per_height) * std::abs(h) - strip.height -
                              std::abs(h) * (1.0 - std::cos(strip.spread));
        if (!(radius > 0.0)) return false;
        // These, the height and the bow of a circle of radius h hold all such places.
        corners_.clear();
        for (const double angle : {strip.spread, -strip.spread}) {
            const Vector2 out = h * turned(strip.normal, angle);
            corners_.push_back(strip.start + out);
            if (strip.end != strip.start) corners_.push_back(strip.end + out);
            if (strip.spread == 0.0) break;
        }
        if (nearest_ >= 0 && outlines_.is_all_within(corners_, radius, nearest_)) return true;
        Point2 middle = Point2::Zero();
        for (const Point2& corner : corners_) middle += corner;
        const int nearest =
            outlines_.nearest(middle / static_cast<double>(corners_.size()), radius);
        if (nearest < 0 || nearest == nearest_) return false;
        nearest_ = nearest;
        return outlines_.is_all_within(corners_, radius, nearest_);
    }

    void look_at(const Part& part, int halvings) {
        const int level = level_of(strip_of(part.atom));
        if (halvings < most_band_halvings &&
            (is_long(part.atom, level) || part.atom.spread > little_spread)) {
            auto [before, after] = part.atom.halves();
            if (may_reach_less(before, level) || (level < 0 && halvings < halvings_to_look)) {
                const double middle = 0.5 * (part.from + part.to);
                look_at({std::move(before), part.from, middle}, halvings + 1);
                look_at({std::move(after), middle, part.to}, halvings + 1);
                return;
            }
            level_ = level;
        }
        const double distance = height(std::max(level, 0));
        if (!reaches_.empty() && reaches_.back().distance == distance)
            reaches_.back().to = part.to;
        else
            reaches_.push_back({part.to, distance});
    }

    bool is_long(const Atom& atom, int level) const {
        return (atom.end - atom.start).norm() >
               length_per_height * std::abs(height(std::max(level, 0)));
    }

    /// Would the place at the end of an atom do with a quarter? Where nothing is shown to be
    /// nearer to the whole, with the whole height.
    bool may_reach_less(const Atom& atom, int level) {
        const Strip end{atom.end, atom.end, {atom.along.y(), -atom.along.x()}, 0.0, 0.0};
        return has_nearer(end, level < 0 ? 0 : level + 2);
    }

    const NearAtoms& outlines_;
    double distance_;
    double least_;
    int level_ = 0;
    int nearest_ = -1;  ///< the atom that was found last
    std::vector<Reach> reaches_;
    std::vector<Point2> corners_;
};

/// One element in so many is asked how many curves lie about it, and so many are many.
constexpr std::size_t one_asked_in = 16;
constexpr int many = 32;

}  // namespace

ShortBands::ShortBands(const LoopField& outlines, double distance, double resolution)
    : outlines_(outlines.atoms()), distance_(distance), least_(least_per_resolution * resolution) {}

bool ShortBands::are_worth_it(const LoopField& outlines, double distance,
                              const std::vector<Element>& chain) {
    for (std::size_t i = 0; i < chain.size(); i += one_asked_in) {
        const Interval range = domain(chain[i].curve);
        const Point2 middle = point_at(chain[i].curve, 0.5 * (range.first + range.last));
        if (outlines.crowd(middle, std::abs(distance), many) >= many) return true;
    }
    return false;
}

BandedChain ShortBands::of(const std::vector<Element>& chain) const {
    Shortening shortening(outlines_, distance_, least_);
    BandedChain banded;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Element& element = chain[i];
        const std::vector<Shortening::Reach> reaches = shortening.of(element.curve);
        double from = domain(element.curve).first;
        for (const Shortening::Reach& reach : reaches) {
            banded.parts.push_back(
                {reaches.size() == 1 ? element.curve : trimmed(element.curve, from, reach.to),
                 reach.distance, element.tag});
            banded.corners.push_back(distance_);
            from = reach.to;
        }
        const Element& next = chain[(i + 1) % chain.size()];
        const Corner corner{start_point(next.curve), end_place(element.curve),
                            start_place(next.curve)};
        if (bands_part(corner, distance_, joint))
            banded.corners.back() =
                shortening.of_join(corner.point, corner.before.normal(), corner.turn());
    }
    return banded;
}

}  // namespace planform::offset_detail
