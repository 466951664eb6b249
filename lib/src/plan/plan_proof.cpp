#include "plan/plan_proof.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <tuple>

#include "curve/index.hpp"
#include "planform/error.hpp"

namespace planform::planning {
namespace {

using detail::index;

/// Chords of the replay, as a share of a contour's smaller side: far finer than what lies in it.
constexpr double chord_share = 1e-3;
/// mm: ways meet their contours to rounding.
constexpr double way_rounding = 1e-6;

std::string name_of(const Cut& cut) {
    return "cut " + std::to_string(cut.contour) + " of profile " + std::to_string(cut.profile) +
           " of piece " + std::to_string(cut.piece);
}

[[noreturn]] void fail(const std::string& law, const Cut& cut) {
    throw GeometryError(ErrorKind::law_broken, "the plan breaks a law: " + law + " (" +
                                                   name_of(cut) +
                                                   "); nothing is handed out, please report it");
}

/// A contour on chords.
struct Ring {
    std::vector<Point2> points;
    Box2 box;
    double area;
};

Ring ring_of(const Contour& contour) {
    const Box2 box = contour.bounds();
    return {contour.points(std::max(chord_share * box.sizes().minCoeff(), 1e-6)), box,
            std::abs(contour.area())};
}

/// Even or odd: how often a ray to the right meets the ring.
bool is_inside(const Ring& ring, const Point2& p) {
    bool inside = false;
    for (std::size_t i = 0, j = ring.points.size() - 1; i < ring.points.size(); j = i++) {
        const Point2 &a = ring.points[i], &b = ring.points[j];
        if ((a.y() > p.y()) != (b.y() > p.y()) &&
            p.x() < (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y()) + a.x())
            inside = !inside;
    }
    return inside;
}

/// Most of five points along the inner ring: contours of one profile may touch in some.
bool lies_in(const Ring& inner, const Ring& outer) {
    int count = 0;
    const std::size_t size = inner.points.size();
    for (std::size_t i = 0; i < 5; ++i) {
        const Point2& a = inner.points[(size * i) / 5];
        const Point2& b = inner.points[((size * i) / 5 + 1) % size];
        if (is_inside(outer, 0.5 * (a + b))) ++count;
    }
    return count >= 3;
}

using Address = std::tuple<int, int, int>;

Address address_of(const Cut& cut) { return {cut.piece, cut.profile, cut.contour}; }

}  // namespace

void prove_order(const std::vector<PlacedPiece>& pieces, const CutPlan& plan, Proof& proof) {
    std::map<Address, Ring> rings;  // those not cut yet
    std::size_t marks = 0;
    for (int p = 0; p < static_cast<int>(pieces.size()); ++p) {
        const ProfileSet& set = pieces[index(p)].outline;
        marks += set.marks().size();
        for (int i = 0; i < static_cast<int>(set.profiles().size()); ++i) {
            const Profile& profile = set.profiles()[index(i)];
            rings.emplace(Address{p, i, 0}, ring_of(profile.outer()));
            for (int h = 0; h < static_cast<int>(profile.holes().size()); ++h)
                rings.emplace(Address{p, i, h + 1}, ring_of(profile.holes()[index(h)]));
        }
    }
    std::vector<Box2> boxes;
    std::vector<Address> addresses;
    for (const auto& [address, ring] : rings) {
        boxes.push_back(ring.box);
        addresses.push_back(address);
    }
    const grid::BoxGrid grid(boxes);
    const grid::BoxTree tree(grid(boxes));
    std::map<Address, bool> made;
    long long checks = 0;
    for (const Cut& cut : plan.cuts) {
        if (cut.role == CutRole::mark) {
            if (!made.emplace(address_of(cut), true).second) fail("a mark is made once", cut);
            continue;
        }
        if (made.size() != marks) fail("marks are made before anything is cut", cut);
        const auto own = rings.find(address_of(cut));
        if (own == rings.end()) fail("every contour is cut once", cut);
        const Ring ring = own->second;
        rings.erase(own);
        tree.for_each_overlap(grid(ring.box), [&](std::int32_t i) {
            ++checks;
            const auto other = rings.find(addresses[index(i)]);
            if (other == rings.end() || other->second.area >= ring.area) return;
            if (lies_in(other->second, ring)) fail("what lies in a contour is cut before it", cut);
        });
    }
    if (!rings.empty() || made.size() != marks)
        throw GeometryError(ErrorKind::law_broken,
                            "the plan breaks a law: every contour is cut once (" +
                                std::to_string(rings.size()) +
                                " are not); nothing is handed out, please report it");
    proof.add("what lies in a contour is cut before it", checks, 0.0);
    proof.add("every contour is cut once", static_cast<long long>(plan.cuts.size()), 0.0);
}

namespace {

/// How much nearer than asked something is, mm.
double shortfall(double asked, double found) { return std::max(0.0, asked - found); }

}  // namespace

void prove_entries(const SheetField& field, const SheetField* sheet, const PlanOptions& options,
                   const CutPlan& plan, Proof& proof) {
    std::map<Address, int> numbers;
    for (int c = 0; c < static_cast<int>(field.contours().size()); ++c) {
        const SheetContour& contour = field.contours()[index(c)];
        numbers.emplace(Address{contour.piece, contour.profile, contour.number}, c);
    }
    double deviation = 0.0;
    long long entries = 0;
    for (const Cut& cut : plan.cuts) {
        if (cut.role == CutRole::mark) continue;
        const int own = numbers.at(address_of(cut));
        const double met = field.distance(cut.start(), 1.0, {-1, own});
        if (met > way_rounding) fail("a cut starts on its contour", cut);
        deviation = std::max(deviation, met);
        const auto prove_way = [&](const std::vector<Curve>& way, const Point2& outer,
                                   double asked) {
            if (way.empty()) return;
            ++entries;
            if (!field.is_waste(outer)) fail("entries and exits lie in waste", cut);
            if (sheet != nullptr && sheet->is_waste(outer)) fail("entries lie on the sheet", cut);
            double least = field.distance(outer, asked + 1.0);
            for (const Curve& curve : way)
                least = std::min(least, field.distance(curve, asked + 1.0, {own, -1}));
            const double less = shortfall(asked, least);
            if (less > way_rounding) fail("entries keep their distance from every contour", cut);
            deviation = std::max(deviation, less);
        };
        if (!cut.entry.empty()) {
            if ((end_point(cut.entry.back()) - cut.start()).norm() > way_rounding)
                fail("an entry ends where its cut starts", cut);
            const double asked = cut.room == EntryRoom::tight
                                     ? std::max(0.0, cut.clearance - way_rounding)
                                     : options.entry.clearance;
            prove_way(cut.entry, cut.pierce(), asked);
        }
        prove_way(cut.exit, cut.end(), way_rounding);
    }
    proof.add("entries and exits lie in waste and keep their distance", entries, deviation);
}

}  // namespace planform::planning
