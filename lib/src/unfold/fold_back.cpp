/// The proof: the blank is folded along its bends and laid over the solid.
///
/// Notation: a place (x, y, h) of the blank with its height h over the middle layer. A fold about a
/// line moves what lies beyond it; folds are applied from the place back to the root, so that each
/// works in the flat frame of what comes before it. Of a fold: b a place on the line where it
/// begins, u across it away from the root, r the middle radius, c the turn a mm of blank, s = 1 if
/// it folds up. Nothing of the panels in space is used but the root's: angles, radii and lengths of
/// the bends alone say where the walls go.

#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <GeomAPI_ProjectPointOnCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "curve/quadrature.hpp"
#include "error/figures.hpp"
#include "unfold/blank.hpp"

namespace planform::unfolding {

namespace {

/// Places of a curve that are folded.
constexpr double shares[] = {0.05, 0.3, 0.5, 0.7, 0.95};
/// Volumes and areas may be off by this share besides: the model's own edges and their measure.
constexpr double measure_share = 1e-6;
/// Simpson's rule is off by no more than this share of what it adds to the middle layer.
constexpr double rule_share = 0.1;

struct Fold {
    SurfaceKind kind = SurfaceKind::cylinder;
    Point2 begin;
    Vector2 across;
    double turn_per_length = 0.0;  ///< cone: angle about its axis for one about the apex
    double middle_radius = 0.0;
    double up = 1.0;
    // Of a cone:
    Point2 apex;
    Vector2 ruling;  ///< from the apex along the line where it begins
    double shift = 0.0, half_angle = 0.0;

    /// How far into the fold a place of it lies: mm across the line, or an angle about the apex.
    double depth(const Point2& place) const {
        if (kind == SurfaceKind::cylinder) return (place - begin).dot(across);
        const Vector2 d = place - apex;
        return std::atan2(d.dot(across), d.dot(ruling));
    }
    /// Where a place of the bend itself comes to lie.
    Point3 bent(const Point2& place, double height) const;
    /// Where a place beyond it does, carried along rigidly; the fold ends at a depth.
    Point3 carried(const Point3& place, double end) const;
};

Point3 in_space(const Point2& place, const Vector2& across, double out, double height) {
    const Point2 at = place + out * across;
    return {at.x(), at.y(), height};
}

Point3 Fold::bent(const Point2& place, double height) const {
    const double at = depth(place);
    if (kind == SurfaceKind::cylinder) {
        const double a = at * turn_per_length;
        const double radius = middle_radius - up * height;
        const Point2 foot = place - at * across;
        return in_space(foot, across, radius * std::sin(a),
                        up * (middle_radius - radius * std::cos(a)));
    }
    const double along = (place - apex).norm() - shift;
    return carried(
        {apex.x() + (along + shift) * ruling.x(), apex.y() + (along + shift) * ruling.y(), height},
        at + 4.0 * pi);
}

Point3 Fold::carried(const Point3& place, double end) const {
    const Point2 flat(place.x(), place.y());
    if (kind == SurfaceKind::cylinder) {
        const double a = end * turn_per_length;
        const double rest = (flat - begin).dot(across) - end;
        const double radius = middle_radius - up * place.z();
        const Point2 foot = flat - (flat - begin).dot(across) * across;
        return in_space(foot, across, radius * std::sin(a) + rest * std::cos(a),
                        up * (middle_radius - radius * std::cos(a)) + up * rest * std::sin(a));
    }
    // Of places on the bend itself the ruling was turned back already (see bent).
    const bool is_own = end > 3.0 * pi;
    const double about_apex = is_own ? end - 4.0 * pi : end;
    const double back = is_own ? 0.0 : about_apex;
    const Vector2 end_ruling = std::cos(back) * ruling + std::sin(back) * across;
    const Vector2 end_across = std::cos(back) * across - std::sin(back) * ruling;
    const Point2 end_apex = apex + shift * end_ruling;
    const Vector2 from_apex = flat - end_apex;
    const double along = from_apex.dot(end_ruling), out = from_apex.dot(end_across);
    const Point2 middle_apex = apex + shift * ruling;
    const Vector3 d(ruling.x(), ruling.y(), 0.0), e(across.x(), across.y(), 0.0);
    const Vector3 n = Vector3::UnitZ();
    const Vector3 axis = std::cos(half_angle) * d + up * std::sin(half_angle) * n;
    const double sense = up * (n.cross(d).dot(e) > 0.0 ? 1.0 : -1.0);
    const Eigen::AngleAxisd turn(sense * about_apex * turn_per_length, axis.normalized());
    const Vector3 before = along * d + out * e + place.z() * n;
    return Point3(middle_apex.x(), middle_apex.y(), 0.0) + turn * before;
}

/// A fold on the way from a panel to the root, and where it ends for that panel.
struct Step {
    int turn;
    double end;
};

class Folding {
  public:
    Folding(const Development& development, const Datum& datum) : d_(development), datum_(datum) {
        ways_.resize(d_.panels.size());
        known_.assign(d_.panels.size(), false);
        for (std::size_t i = 0; i < d_.panels.size(); ++i) find_way(static_cast<int>(i));
    }

    /// Model coordinates of a place of the blank on a panel, at a height over the middle layer.
    Point3 folded(const Point2& place, double height, int panel) const {
        const int own = d_.turn_of_panel[static_cast<std::size_t>(panel)];
        Point3 at(place.x(), place.y(), height);
        if (own >= 0) at = folds_.at(own).bent(place, height);
        const std::vector<Step>& way = ways_[static_cast<std::size_t>(panel)];
        for (auto step = way.rbegin(); step != way.rend(); ++step)
            at = folds_.at(step->turn).carried(at, step->end);
        return datum_.to_model({at.x(), at.y()}, at.z() + 0.5 * d_.skin.thickness);
    }

  private:
    void find_way(int panel);
    void add_fold(int turn, const Point2& begin, const Vector2& away, const Vector2& line,
                  const Panel& panel);

    const Development& d_;
    const Datum& datum_;
    std::vector<std::vector<Step>> ways_;  ///< by panel: from the root on, without its own turn
    std::vector<bool> known_;
    std::map<int, Fold> folds_;  ///< by turn
};

void Folding::add_fold(int number, const Point2& begin, const Vector2& away, const Vector2& line,
                       const Panel& panel) {
    const Turn& turn = d_.turns[static_cast<std::size_t>(number)];
    Fold fold;
    fold.kind = panel.kind();
    fold.begin = begin;
    fold.up = panel.bends_up() ? 1.0 : -1.0;
    fold.middle_radius = turn.inside_radius + 0.5 * d_.skin.thickness;
    fold.across = away;
    if (fold.kind == SurfaceKind::cylinder) {
        fold.turn_per_length = turn.angle / turn.allowance;
    } else {
        fold.apex = panel.placement * Point2(0.0, 0.0);
        fold.half_angle = panel.half_angle();
        fold.ruling = (begin - fold.apex).normalized();
        fold.across = away - away.dot(fold.ruling) * fold.ruling;
        fold.across.normalize();
        fold.turn_per_length = 1.0 / std::sin(fold.half_angle);
        fold.shift = (turn.neutral_depth - 0.5 * d_.skin.thickness) / std::tan(fold.half_angle);
    }
    static_cast<void>(line);
    folds_.emplace(number, fold);
}

void Folding::find_way(int index) {
    if (known_[static_cast<std::size_t>(index)]) return;
    known_[static_cast<std::size_t>(index)] = true;
    const Panel& panel = d_.panel(index);
    const int own = d_.turn_of_panel[static_cast<std::size_t>(index)];
    if (panel.parent < 0) {
        if (own >= 0) {
            // The root is a bend: it stays flat along the line in the middle of its turn.
            const Panel::Frame frame = panel.frame();
            Vector2 away = panel.placement.linear() * Vector2(1.0, 0.0);
            if (panel.kind() == SurfaceKind::cone)
                away = panel.placement.linear() * Vector2(0.0, 1.0);
            add_fold(own, panel.placement * frame.flat, away, Vector2::Zero(), panel);
        }
        return;
    }
    find_way(panel.parent);
    const int before = d_.turn_of_panel[static_cast<std::size_t>(panel.parent)];
    std::vector<Step> way = ways_[static_cast<std::size_t>(panel.parent)];
    if (before == own && own >= 0) {
        ways_[static_cast<std::size_t>(index)] = way;
        return;
    }
    // The line between the two.
    Point2 begin = Point2::Zero(), end = Point2::Zero();
    double longest = -1.0;
    for (const Side& side : d_.sides_of(index)) {
        if (side.twin < 0 || d_.side(side.twin).panel != panel.parent) continue;
        const Point2 a = panel.in_blank(side.start), b = panel.in_blank(side.end);
        if ((b - a).norm() <= longest) continue;
        longest = (b - a).norm();
        begin = a;
        end = b;
    }
    if (before >= 0) way.push_back({before, folds_.at(before).depth(0.5 * (begin + end))});
    ways_[static_cast<std::size_t>(index)] = way;
    if (own >= 0) {
        // The material of this panel lies to the left of its side.
        const Vector2 line = (end - begin).normalized();
        add_fold(own, 0.5 * (begin + end), Vector2(-line.y(), line.x()), line, panel);
    }
}

/// An edge, made ready for many questions.
class EdgeForm {
  public:
    explicit EdgeForm(const solid::GraphEdge& edge) : edge_(edge) {
        start_ = edge.point(edge.first);
        end_ = edge.point(edge.last);
        if (edge.curve->DynamicType() == STANDARD_TYPE(Geom_Line)) {
            kind_ = Kind::line;
        } else if (edge.curve->DynamicType() == STANDARD_TYPE(Geom_Circle)) {
            kind_ = Kind::circle;
            gp_Circ circle = static_cast<const Geom_Circle*>(edge.curve.get())->Circ();
            if (edge.is_placed) circle.Transform(edge.placement());
            const gp_Ax2& frame = circle.Position();
            center_ = {frame.Location().X(), frame.Location().Y(), frame.Location().Z()};
            x_ = {frame.XDirection().X(), frame.XDirection().Y(), frame.XDirection().Z()};
            y_ = {frame.YDirection().X(), frame.YDirection().Y(), frame.YDirection().Z()};
            radius_ = circle.Radius();
        }
    }

    double distance(const Point3& place) const {
        switch (kind_) {
            case Kind::line: {
                const Vector3 along = end_ - start_;
                const double length = along.squaredNorm();
                const double share =
                    length > 0.0 ? std::clamp((place - start_).dot(along) / length, 0.0, 1.0) : 0.0;
                return (place - start_ - share * along).norm();
            }
            case Kind::circle: {
                const Vector3 d = place - center_;
                const double x = d.dot(x_), y = d.dot(y_);
                double angle = std::atan2(y, x);
                while (angle < edge_.first) angle += 2.0 * pi;
                while (angle - 2.0 * pi >= edge_.first) angle -= 2.0 * pi;
                if (angle <= edge_.last) {
                    const double aside = std::hypot(x, y) - radius_;
                    return std::hypot(aside, d.dot(x_.cross(y_)));
                }
                return std::min((place - start_).norm(), (place - end_).norm());
            }
            case Kind::other:
                break;
        }
        gp_Pnt at(place.x(), place.y(), place.z());
        if (edge_.is_placed) at.Transform(edge_.placement().Inverted());
        double best = std::min((place - start_).norm(), (place - end_).norm());
        const GeomAPI_ProjectPointOnCurve projection(at, edge_.curve, edge_.first, edge_.last);
        if (projection.NbPoints() > 0) best = std::min(best, projection.LowerDistance());
        return best;
    }

  private:
    enum class Kind { line, circle, other };
    const solid::GraphEdge& edge_;
    Kind kind_ = Kind::other;
    Point3 start_, end_, center_;
    Vector3 x_, y_;
    double radius_ = 0.0;
};

class Prover {
  public:
    Prover(const Development& development, const std::vector<std::vector<CutCurve>>& loops,
           const Datum& datum, double volume)
        : d_(development), loops_(loops), folding_(development, datum), volume_(volume) {
        forms_.resize(development.body.graph.edges.size());
    }

    Proof run() {
        lay_cuts_over();
        compare_areas();
        compare_volume();
        return std::move(proof_);
    }

  private:
    struct Deviation {
        long long checks = 0;
        double largest = 0.0;
        void add(double value) {
            ++checks;
            largest = std::max(largest, value);
        }
    };
    void lay_cuts_over();
    void compare_areas();
    void compare_volume();
    void require(const char* law, const Deviation& deviation, const std::string& what);
    double distance_to_far_side(const Side& side, const Point3& place, int& nearest) const;
    const EdgeForm& form(int edge) const;
    double distance_to_cut(const Side& side, const Point3& place) const;
    double flat_area(int panel, bool in_middle) const;
    double cut_length() const;

    const Development& d_;
    const std::vector<std::vector<CutCurve>>& loops_;
    Folding folding_;
    double volume_;
    mutable std::vector<std::optional<EdgeForm>> forms_;  ///< by edge, made when asked for
    Proof proof_;
};

void Prover::require(const char* law, const Deviation& deviation, const std::string& what) {
    if (deviation.checks == 0) return;
    if (!(deviation.largest <= d_.tolerance))
        throw GeometryError(ErrorKind::law_broken,
                            "the blank does not fold back onto the solid: " + what + " by " +
                                words::figure(deviation.largest, 6) +
                                " mm, more than the tolerance of " +
                                words::figure(d_.tolerance, 6) +
                                " mm; the solid is no sheet of one thickness there");
    proof_.add(law, deviation.checks, deviation.largest);
}

const EdgeForm& Prover::form(int edge) const {
    auto& form = forms_[static_cast<std::size_t>(edge)];
    if (!form) form.emplace(d_.body.edge(edge));
    return *form;
}

/// `nearest` is the edge that the last place of this side was nearest to; -1: not known.
double Prover::distance_to_far_side(const Side& side, const Point3& place, int& nearest) const {
    // Near enough that no other edge needs to be asked.
    const double near_enough = 1e-3 * d_.tolerance;
    if (nearest >= 0) {
        const double distance = form(nearest).distance(place);
        if (distance <= near_enough) return distance;
    }
    double best = INFINITY;
    const int near = d_.skin.side[static_cast<std::size_t>(d_.panel(side.panel).face())];
    for (const solid::EdgeUse& use : d_.body.face(side.rim).uses) {
        const int beyond = d_.body.beyond(use.edge, side.rim);
        if (beyond < 0 || d_.body.edge(use.edge).degenerate()) continue;
        const int number = d_.skin.side[static_cast<std::size_t>(beyond)];
        if (number == 0 || number == near) continue;
        const double distance = form(use.edge).distance(place);
        if (distance >= best) continue;
        best = distance;
        nearest = use.edge;
        if (best <= near_enough) return best;
    }
    return best;
}

/// Distance from the surface of a cut.
double Prover::distance_to_cut(const Side& side, const Point3& place) const {
    const solid::FaceSurface& surface = d_.body.surface(side.rim);
    if (surface.kind() == GeomAbs_Plane)
        return std::abs((place - surface.origin()).dot(surface.z()));
    if (surface.kind() == GeomAbs_Cylinder) {
        const Vector3 d = place - surface.origin();
        return std::abs((d - d.dot(surface.z()) * surface.z()).norm() - surface.radius());
    }
    BRepBuilderAPI_MakeVertex vertex(gp_Pnt(place.x(), place.y(), place.z()));
    TopoDS_Shape face = d_.body.face(side.rim).shape;
    face.Move(TopLoc_Location(d_.body.graph.placement));
    BRepExtrema_DistShapeShape distance(vertex.Shape(), face);
    return distance.IsDone() ? distance.Value() : INFINITY;
}

void Prover::lay_cuts_over() {
    const double half = 0.5 * d_.skin.thickness;
    Deviation near, far, slanted;
    for (const Side& side : d_.sides) {
        if (side.twin >= 0) continue;
        const Panel& panel = d_.panel(side.panel);
        int nearest = -1;
        for (const Curve& flat : side.curves) {
            const Curve curve = transformed(flat, panel.placement);
            const Interval range = domain(curve);
            for (const double share : shares) {
                const Point2 place =
                    point_at(curve, range.first + share * (range.last - range.first));
                if (side.slanted) {
                    slanted.add(distance_to_cut(side, folding_.folded(place, 0.0, side.panel)));
                    continue;
                }
                const double up = panel.is_upper() ? half : -half;
                near.add(form(side.edge).distance(folding_.folded(place, up, side.panel)));
                if (side.rim < 0) continue;
                const double off =
                    distance_to_far_side(side, folding_.folded(place, -up, side.panel), nearest);
                if (std::isfinite(off)) far.add(off);
            }
        }
    }
    require("folded cuts lie on the edges of the solid", near, "a cut misses its edge");
    require("folded cuts lie on the edges of the other side", far,
            "a cut misses its edge on the other side");
    require("folded cuts lie on slanted cuts of the solid", slanted, "a cut misses its face");
}

/// Area of a panel, of the blank or of the middle layer.
double Prover::flat_area(int index, bool in_middle) const {
    const Panel& panel = d_.panel(index);
    double area = 0.0;
    for (const Side& side : d_.sides_of(index)) {
        for (const Curve& curve : side.curves) {
            if (!in_middle || panel.kind() != SurfaceKind::cone) {
                area += swept_area(curve);
                continue;
            }
            // Polar coordinates about the apex, distances less what the rule adds.
            const Interval range = domain(curve);
            area += detail::integrate_adaptive(
                [&](double t) {
                    const Point2 p = point_at(curve, t);
                    const double distance = p.norm() - panel.neutral_shift();
                    return 0.5 * distance * distance * cross(p, derivative_at(curve, t)) /
                           p.squaredNorm();
                },
                range.first, range.last, 1e-12 * d_.body.size * d_.body.size);
        }
    }
    if (in_middle && panel.kind() == SurfaceKind::cylinder)
        area *= panel.middle_radius() / panel.neutral_radius();
    return area;
}

double Prover::cut_length() const {
    double sum = 0.0;
    for (const Side& side : d_.sides)
        if (side.twin < 0)
            for (const Curve& curve : side.curves) sum += length(curve);
    return sum;
}

void Prover::compare_areas() {
    Deviation deviation;
    for (std::size_t i = 0; i < d_.panels.size(); ++i) {
        const Panel& panel = d_.panels[i];
        bool is_square = panel.kind() != SurfaceKind::cone;
        double around = 0.0;
        for (const Side& side : d_.sides_of(static_cast<int>(i))) {
            is_square = is_square && !side.slanted;
            around += (side.end - side.start).norm();
            for (const Curve& curve : side.curves) around += length(curve);
        }
        if (!is_square) continue;
        double of_face = d_.body.area(panel.face());
        if (panel.kind() == SurfaceKind::cylinder)
            of_face *= panel.middle_radius() / d_.body.sheet(panel.face()).radius;
        const double off = std::abs(flat_area(static_cast<int>(i), true) - of_face);
        deviation.add(std::max(0.0, off - measure_share * of_face) / around);
    }
    require("areas of panels are those of their faces", deviation,
            "the outline of a wall or bend and its face differ in area");
}

/// Simpson's rule over the thickness: both sides of the solid and the middle layer of the blank. It
/// is exact where areas change with the depth as they do in square cuts and between slanted planes;
/// how far the layers differ tells how far it may be off elsewhere.
void Prover::compare_volume() {
    double middle = 0.0, sides = 0.0;
    for (std::size_t i = 0; i < d_.panels.size(); ++i)
        middle += flat_area(static_cast<int>(i), true);
    for (std::size_t i = 0; i < d_.body.face_count(); ++i)
        if (d_.skin.side[i] != 0) sides += d_.body.areas[i];
    const double t = d_.skin.thickness;
    const double by_simpson = t / 6.0 * (sides + 4.0 * middle);
    const double by_rule = rule_share * std::abs(by_simpson - t * middle);
    Deviation deviation;
    const double off = std::abs(by_simpson - volume_) - measure_share * volume_ - by_rule;
    deviation.add(std::max(0.0, off) / (t * cut_length()));
    require("thickness times area is the volume", deviation,
            "volume and area times thickness differ as if cuts were off");
}

}  // namespace

Proof prove_by_folding(const Development& development,
                       const std::vector<std::vector<CutCurve>>& loops, const Datum& datum,
                       double volume) {
    return Prover(development, loops, datum, volume).run();
}

}  // namespace planform::unfolding
