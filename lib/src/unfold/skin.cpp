#include "unfold/skin.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <utility>

namespace planform::unfolding {

namespace {

/// A thickness is one within this share of it: files round radii and places.
constexpr double same_thickness = 2e-3;
/// An edge lies on an axis within this share of the thickness.
constexpr double on_axis = 2e-3;

/// Do the places of two faces overlap, seen along the normal or along the axis?
class Over {
  public:
    Over(const SheetBody& body, const SheetSurface& surface) : body_(body), surface_(surface) {
        x_ = surface.axis.unitOrthogonal();
        y_ = surface.axis.cross(x_);
    }
    Box2 box(int face) const {
        Box2 result;
        for (const Point3& place : body_.places[static_cast<std::size_t>(face)]) {
            const Vector3 d = place - surface_.origin;
            if (surface_.kind == SurfaceKind::plane)
                result.extend(Point2(d.dot(x_), d.dot(y_)));
            else
                result.extend(Point2(d.dot(surface_.axis), 0.0));
        }
        return result;
    }
    bool overlap(const Box2& a, const Box2& b) const {
        if (a.isEmpty() || b.isEmpty()) return false;
        const Vector2 common = a.max().cwiseMin(b.max()) - a.min().cwiseMax(b.min());
        const double least = 1e-9 * body_.size;
        return common.x() > least && (surface_.is_curved() || common.y() > least);
    }

  private:
    const SheetBody& body_;
    const SheetSurface& surface_;
    Vector3 x_, y_;
};

}  // namespace

bool is_same_thickness(double first, double second) {
    return std::abs(first - second) <= same_thickness * second;
}

bool lies_opposite(const Opposites& opposites, int face, double thickness) {
    const auto& list = opposites[static_cast<std::size_t>(face)];
    return std::any_of(list.begin(), list.end(), [thickness](const Opposite& opposite) {
        return is_same_thickness(opposite.distance, thickness);
    });
}

namespace {

/// Faces that may lie opposite each other, without asking all pairs. Along a direction that is that
/// of no model, normals of planes that look away from each other have opposite components, and
/// coaxial surfaces the same place of their axis that is nearest to the middle of the body.
class OppositeFinder {
  public:
    explicit OppositeFinder(const SheetBody& body) : body_(body) {
        Box3 whole;
        for (const Box3& box : body.boxes) whole.extend(box);
        const Point3 middle = whole.isEmpty() ? Point3(Point3::Zero()) : Point3(whole.center());
        const Vector3 way = Vector3(0.5377, 0.8339, -0.2259).normalized();
        for (std::size_t i = 0; i < body.face_count(); ++i) {
            const SheetSurface& surface = body.sheets[i];
            if (surface.kind == SurfaceKind::other) continue;
            Entry entry{static_cast<int>(i), surface.axis.dot(way), direction_slack};
            if (surface.is_curved()) {
                const Vector3 d = middle - surface.origin;
                const Vector3 aside = d - d.dot(surface.axis) * surface.axis;
                entry.key = aside.dot(way);
                // Axes differ a little, and more far away from where they are given.
                entry.slack = place_slack + direction_slack * (d.norm() + body.size);
            }
            (surface.kind == SurfaceKind::plane ? planes_ : curved_).push_back(entry);
        }
        for (auto* list : {&planes_, &curved_})
            std::stable_sort(list->begin(), list->end(),
                             [](const Entry& a, const Entry& b) { return a.key < b.key; });
    }

    Opposites run() {
        Opposites result(body_.face_count());
        for (const Entry& entry : planes_) look(entry, planes_, -entry.key, result);
        for (const Entry& entry : curved_) look(entry, curved_, entry.key, result);
        for (std::vector<Opposite>& list : result)
            std::sort(list.begin(), list.end(),
                      [](const Opposite& a, const Opposite& b) { return a.face < b.face; });
        return result;
    }

  private:
    /// More than directions and places may differ by, rad and mm (see thickness_between).
    static constexpr double direction_slack = 2e-4;
    static constexpr double place_slack = 2e-3;
    struct Entry {
        int face;
        double key, slack;
    };

    void look(const Entry& entry, const std::vector<Entry>& list, double at,
              Opposites& result) const {
        const auto own = static_cast<std::size_t>(entry.face);
        const SheetSurface& first = body_.sheets[own];
        std::optional<Over> over;
        Box2 own_box;
        auto other = std::lower_bound(list.begin(), list.end(), at - entry.slack,
                                      [](const Entry& e, double key) { return e.key < key; });
        for (; other != list.end() && other->key <= at + entry.slack; ++other) {
            if (other->face == entry.face) continue;
            const auto k = static_cast<std::size_t>(other->face);
            const auto distance = thickness_between(first, body_.sheets[k]);
            // What lies behind is no farther than the thickness.
            if (!distance || body_.boxes[own].exteriorDistance(body_.boxes[k]) > 1.01 * *distance)
                continue;
            if (!over) {
                over.emplace(body_, first);
                own_box = over->box(entry.face);
            }
            if (over->overlap(own_box, over->box(other->face)))
                result[own].push_back({other->face, *distance});
        }
    }

    const SheetBody& body_;
    std::vector<Entry> planes_, curved_;
};

}  // namespace

Opposites find_opposites(const SheetBody& body) { return OppositeFinder(body).run(); }

std::vector<ThicknessShare> possible_thicknesses(const SheetBody& body,
                                                 const Opposites& opposites) {
    std::vector<ThicknessShare> nearest;
    for (std::size_t i = 0; i < opposites.size(); ++i) {
        double least = INFINITY;
        for (const Opposite& opposite : opposites[i]) least = std::min(least, opposite.distance);
        if (std::isfinite(least)) nearest.push_back({least, body.areas[i]});
    }
    std::stable_sort(nearest.begin(), nearest.end(),
                     [](const auto& a, const auto& b) { return a.thickness < b.thickness; });
    std::vector<ThicknessShare> result;
    for (const ThicknessShare& share : nearest) {
        if (!result.empty() && is_same_thickness(share.thickness, result.back().thickness)) {
            ThicknessShare& same = result.back();
            same.thickness = (same.thickness * same.area + share.thickness * share.area) /
                             (same.area + share.area);
            same.area += share.area;
        } else {
            result.push_back(share);
        }
    }
    std::stable_sort(result.begin(), result.end(),
                     [](const auto& a, const auto& b) { return a.area > b.area; });
    return result;
}

bool Skin::is_outer_of_sharp_edge(int face) const {
    return std::any_of(outer_of_sharp_edge.begin(), outer_of_sharp_edge.end(),
                       [face](const auto& entry) { return entry.second == face; });
}

namespace {

class Growth {
  public:
    Growth(const SheetBody& body, const Opposites& opposites, double thickness)
        : body_(body), opposites_(opposites) {
        skin_.thickness = thickness;
        skin_.side.assign(body.face_count(), 0);
        find_sharp_edges();
    }

    Skin run() && {
        int seed = -1;
        for (std::size_t i = 0; i < body_.face_count(); ++i)
            if (has_opposite(static_cast<int>(i)) &&
                (seed < 0 || body_.areas[i] > body_.area(seed) * (1.0 + 1e-9)))
                seed = static_cast<int>(i);
        if (seed < 0) return std::move(skin_);
        grow({seed}, 1);
        std::vector<int> behind;
        for (std::size_t i = 0; i < body_.face_count(); ++i) {
            if (skin_.side[i] != 1) continue;
            for (const Opposite& opposite : opposites_[i])
                if (is_same_thickness(opposite.distance, skin_.thickness) &&
                    side(opposite.face) == 0)
                    behind.push_back(opposite.face);
        }
        grow(std::move(behind), 2);
        return std::move(skin_);
    }

  private:
    int& side(int face) { return skin_.side[static_cast<std::size_t>(face)]; }

    bool has_opposite(int face) const { return lies_opposite(opposites_, face, skin_.thickness); }

    /// Inner edges about which an outer cylinder of the thickness turns.
    void find_sharp_edges() {
        const double within = on_axis * skin_.thickness;
        for (std::size_t i = 0; i < body_.face_count(); ++i) {
            const SheetSurface& outer = body_.sheets[i];
            if (outer.kind != SurfaceKind::cylinder || outer.hollow ||
                !is_same_thickness(outer.radius, skin_.thickness))
                continue;
            const auto is_on_axis = [&](const Point3& place) {
                const Vector3 d = place - outer.origin;
                return (d - d.dot(outer.axis) * outer.axis).norm() < within;
            };
            for (std::size_t e = 0; e < body_.graph.edges.size(); ++e) {
                const int edge = static_cast<int>(e);
                const auto& uses = body_.uses_of_edge[e];
                if (uses.size() != 2 || body_.edge(edge).degenerate()) continue;
                if (!is_on_axis(body_.point(edge, 0.0)) || !is_on_axis(body_.point(edge, 0.5)) ||
                    !is_on_axis(body_.point(edge, 1.0)))
                    continue;
                if (body_.meeting(edge, uses[0], uses[1]) == Meeting::inward)
                    skin_.outer_of_sharp_edge[edge] = static_cast<int>(i);
            }
        }
    }

    void grow(std::vector<int> seeds, int number) {
        std::deque<int> open;
        for (const int seed : seeds) {
            if (side(seed) != 0) continue;
            side(seed) = number;
            open.push_back(seed);
        }
        while (!open.empty()) {
            const int from = open.front();
            open.pop_front();
            const auto& uses = body_.face(from).uses;
            for (std::size_t k = 0; k < uses.size(); ++k) {
                const int edge = uses[k].edge;
                const int next = body_.beyond(edge, from);
                if (next < 0 || next == from || side(next) != 0 || body_.edge(edge).degenerate())
                    continue;
                if (!goes_on(edge, {from, static_cast<int>(k)}, next)) continue;
                side(next) = number;
                open.push_back(next);
            }
        }
    }

    bool goes_on(int edge, const FaceUse& from, int next) {
        const FaceUse other = body_.use_of(edge, next);
        const Meeting meeting = body_.meeting(edge, from, other);
        if (meeting == Meeting::smooth) {
            if (has_opposite(next) || skin_.is_outer_of_sharp_edge(next)) return true;
            skin_.formed.push_back({next, from.face, joins_wall(next, from.face)});
            return false;
        }
        if (meeting != Meeting::inward || !has_opposite(next)) return false;
        return skin_.outer_of_sharp_edge.count(edge) > 0;
    }

    bool joins_wall(int face, int from) const {
        const auto& uses = body_.face(face).uses;
        for (std::size_t k = 0; k < uses.size(); ++k) {
            const int edge = uses[k].edge;
            const int next = body_.beyond(edge, face);
            if (next < 0 || next == from || next == face || body_.edge(edge).degenerate() ||
                !has_opposite(next))
                continue;
            if (body_.meeting(edge, {face, static_cast<int>(k)}, body_.use_of(edge, next)) ==
                Meeting::smooth)
                return true;
        }
        return false;
    }

    const SheetBody& body_;
    const Opposites& opposites_;
    Skin skin_;
};

}  // namespace

Skin grow_skin(const SheetBody& body, const Opposites& opposites, double thickness) {
    return Growth(body, opposites, thickness).run();
}

}  // namespace planform::unfolding
