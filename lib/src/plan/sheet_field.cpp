#include "plan/sheet_field.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace planform::planning {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Box2 grown(const Box2& box, double by) {
    return Box2(box.min() - Vector2::Constant(by), box.max() + Vector2::Constant(by));
}

bool counts(int contour, SheetField::Among among) {
    return contour != among.all_but && (among.only < 0 || contour == among.only);
}

}  // namespace

std::vector<SheetContour> contours_of(const std::vector<PlacedPiece>& pieces) {
    std::vector<SheetContour> contours;
    for (int p = 0; p < static_cast<int>(pieces.size()); ++p) {
        const auto& profiles = pieces[at(p)].outline.profiles();
        for (int i = 0; i < static_cast<int>(profiles.size()); ++i) {
            const Profile& profile = profiles[at(i)];
            for (int h = 0; h < static_cast<int>(profile.holes().size()); ++h) {
                const Contour& hole = profile.holes()[at(h)];
                contours.push_back({&hole, p, i, h + 1, CutRole::hole, hole.bounds()});
            }
            contours.push_back(
                {&profile.outer(), p, i, 0, CutRole::outer, profile.outer().bounds()});
        }
    }
    return contours;
}

SheetField::SheetField(std::vector<SheetContour> contours)
    : contours_(std::move(contours)), loops_(0.0) {
    std::vector<Box2> boxes;
    for (int c = 0; c < static_cast<int>(contours_.size()); ++c) {
        for (const Curve& curve : contours_[at(c)].contour->curves()) {
            for (const Atom& atom : atoms_of(curve)) {
                atoms_.push_back({atom, c});
                boxes.push_back(atom.box());
            }
        }
        loops_.add_loop(contours_[at(c)].contour->curves(), true);
    }
    loops_.index();
    if (boxes.empty()) return;
    grid_.emplace(boxes);
    tree_.emplace((*grid_)(boxes));
}

double SheetField::distance(const Curve& probe, double within, Among among, double enough) const {
    double best = within;
    for (const Atom& part : atoms_of(probe)) {
        for_each_near(grown(part.box(), best), [&](std::int32_t i) {
            const Located& located = atoms_[at(i)];
            if (best > enough && counts(located.contour, among))
                lower_to_distance(part, located.atom, enough, best);
        });
    }
    return best;
}

double SheetField::distance(const Point2& point, double within, Among among) const {
    double best = within;
    for_each_near(grown(Box2(point, point), best), [&](std::int32_t i) {
        const Located& located = atoms_[at(i)];
        if (counts(located.contour, among)) lower_to_distance(point, located.atom, best);
    });
    return best;
}

bool SheetField::is_waste(const Point2& point) const {
    int turns = 0;
    for (const int contour : loops_.around(point)) turns += loops_.winding(contour, point);
    return turns <= 0;
}

std::vector<int> SheetField::around_each() const {
    std::vector<int> result(contours_.size(), -1);
    std::vector<double> area(contours_.size());
    for (std::size_t c = 0; c < area.size(); ++c) area[c] = std::abs(contours_[c].contour->area());
    for (int c = 0; c < static_cast<int>(contours_.size()); ++c) {
        const auto places = loops_.places(c);
        int& best = result[at(c)];
        for (const int other : loops_.around(places[0])) {
            const bool is_larger =
                area[at(other)] > area[at(c)] || (area[at(other)] == area[at(c)] && other > c);
            if (other == c || !is_larger || (best >= 0 && area[at(other)] >= area[at(best)]))
                continue;
            // What a profile says of itself needs no looking: contours of one may touch.
            const SheetContour &inner = contours_[at(c)], &outer = contours_[at(other)];
            const bool is_told = inner.piece == outer.piece && inner.profile == outer.profile;
            if (is_told ? outer.role == CutRole::outer : loops_.winding_of_most(other, places) != 0)
                best = other;
        }
    }
    return result;
}

std::vector<std::pair<int, int>> SheetField::meeting(double gap) const {
    std::set<std::pair<int, int>> found;
    if (!tree_) return {};
    std::vector<grid::GridBox> boxes;
    boxes.reserve(atoms_.size());
    for (const Located& located : atoms_)
        boxes.push_back((*grid_)(grown(located.atom.box(), 0.5 * gap)));
    grid::BoxTree(boxes).for_each_pair([&](std::int32_t i, std::int32_t j) {
        int a = atoms_[at(i)].contour, b = atoms_[at(j)].contour;
        if (contours_[at(a)].piece == contours_[at(b)].piece) return;
        if (a > b) std::swap(a, b);
        if (found.contains({a, b})) return;
        double best = 2.0 * gap + 2.0 * distance_precision;
        lower_to_distance(atoms_[at(i)].atom, atoms_[at(j)].atom, 0.5 * gap, best);
        if (best <= gap + distance_precision) found.insert({a, b});
    });
    return {found.begin(), found.end()};
}

}  // namespace planform::planning
