/// The proof: the blank is folded along its bends and laid over the solid.
///
/// Notation: a place (x, y, h) of the blank with its height h over the middle layer. A fold about a
/// line moves what lies beyond it rigidly, in the flat frame of what comes before it: the motions
/// of the folds on the way from the root are multiplied. Of a fold: b a place on the line where it
/// begins, u across it away from the root, r the middle radius, c the turn a mm of blank, s = 1 if
/// it folds up. Nothing of the panels in space is used but the root's: angles, radii and lengths of
/// the bends alone say where the walls go.

#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <algorithm>
#include <cmath>
#include <vector>

#include "curve/quadrature.hpp"
#include "error/figures.hpp"
#include "unfold/blank.hpp"

namespace planform::unfolding {

namespace {

/// Places of a curve that are folded.
constexpr double shares[] = {0.05, 0.3, 0.5, 0.7, 0.95};
/// Volumes and areas may be off by this share besides: the model's own edges and their measure.
constexpr double folded_share = 1e-6;
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
    /// How what lies beyond a fold that ends at a depth is carried along, rigidly.
    Transform3 carried(double end) const;

  private:
    Eigen::AngleAxisd turned(double about_apex) const;
    Point3 middle_apex() const {
        const Point2 at = apex + shift * ruling;
        return {at.x(), at.y(), 0.0};
    }
};

Vector3 flat(const Vector2& v) { return {v.x(), v.y(), 0.0}; }

/// Of a cone: the turn about its axis for an angle about the apex of the blank.
Eigen::AngleAxisd Fold::turned(double about_apex) const {
    const Vector3 d = flat(ruling), n = Vector3::UnitZ();
    const Vector3 axis = std::cos(half_angle) * d + up * std::sin(half_angle) * n;
    const double sense = up * (n.cross(d).dot(flat(across)) > 0.0 ? 1.0 : -1.0);
    return {sense * about_apex * turn_per_length, axis.normalized()};
}

Point3 Fold::bent(const Point2& place, double height) const {
    const double at = depth(place);
    if (kind == SurfaceKind::cylinder) {
        const double a = at * turn_per_length;
        const double radius = middle_radius - up * height;
        const Point2 out = place - at * across + radius * std::sin(a) * across;
        return {out.x(), out.y(), up * (middle_radius - radius * std::cos(a))};
    }
    const double along = (place - apex).norm() - shift;
    return middle_apex() + turned(at) * (along * flat(ruling) + height * Vector3::UnitZ());
}

Transform3 Fold::carried(double end) const {
    const Vector3 d = flat(across), n = Vector3::UnitZ();
    Transform3 motion = Transform3::Identity();
    if (kind == SurfaceKind::cylinder) {
        // About the line: what lay where the fold ends comes to lie at the end of the arc.
        const double a = end * turn_per_length;
        motion.linear() = Eigen::AngleAxisd(up * a, d.cross(n)).toRotationMatrix();
        const Vector3 reach =
            middle_radius * std::sin(a) * d + up * middle_radius * (1.0 - std::cos(a)) * n;
        motion.translation() = flat(begin) + reach - motion.linear() * flat(begin + end * across);
        return motion;
    }
    // The ruling where the fold ends is turned back onto the one where it begins, then about the
    // axis.
    const double sense = n.cross(flat(ruling)).dot(d) > 0.0 ? 1.0 : -1.0;
    const Eigen::AngleAxisd back(-sense * end, n);
    const Vector2 end_ruling = std::cos(end) * ruling + std::sin(end) * across;
    motion.linear() = (turned(end) * back).toRotationMatrix();
    motion.translation() = middle_apex() - motion.linear() * flat(apex + shift * end_ruling);
    return motion;
}

/// Where the places of the blank come to lie, panel by panel.
class Folding {
  public:
    Folding(const Development& development, const Datum& datum) : d_(development) {
        Transform3 placed = Transform3::Identity();
        placed.linear() << datum.x(), datum.y(), datum.normal();
        placed.translation() = datum.origin() + 0.5 * development.skin.thickness * datum.normal();
        ways_.assign(d_.panels.size(), placed);
        known_.assign(d_.panels.size(), false);
        folds_.resize(d_.turns.size());
        for (std::size_t i = 0; i < d_.panels.size(); ++i) find_way(static_cast<int>(i));
    }

    /// Model coordinates of a place of the blank on a panel, at a height over the middle layer.
    Point3 folded(const Point2& place, double height, int panel) const {
        const int own = d_.turn_of_panel[static_cast<std::size_t>(panel)];
        return ways_[static_cast<std::size_t>(panel)] *
               (own >= 0 ? fold(own).bent(place, height) : Point3(place.x(), place.y(), height));
    }

  private:
    const Fold& fold(int turn) const { return folds_[static_cast<std::size_t>(turn)]; }
    void find_way(int panel);
    void add_fold(int turn, const Point2& begin, const Vector2& away, const Panel& panel);

    const Development& d_;
    std::vector<Transform3> ways_;  ///< by panel: all folds before it, not its own
    std::vector<bool> known_;
    std::vector<Fold> folds_;  ///< by turn
};

void Folding::add_fold(int number, const Point2& begin, const Vector2& away, const Panel& panel) {
    const Turn& turn = d_.turns[static_cast<std::size_t>(number)];
    Fold& fold = folds_[static_cast<std::size_t>(number)];
    fold.kind = panel.kind();
    fold.begin = begin;
    fold.up = panel.bends_up() ? 1.0 : -1.0;
    fold.middle_radius = turn.inside_radius + 0.5 * d_.skin.thickness;
    fold.across = away;
    if (fold.kind == SurfaceKind::cylinder) {
        fold.turn_per_length = turn.angle / turn.allowance;
        return;
    }
    fold.apex = panel.placement * Point2(0.0, 0.0);
    fold.half_angle = panel.half_angle();
    fold.ruling = (begin - fold.apex).normalized();
    fold.across = (away - away.dot(fold.ruling) * fold.ruling).normalized();
    fold.turn_per_length = 1.0 / std::sin(fold.half_angle);
    fold.shift = (turn.neutral_depth - 0.5 * d_.skin.thickness) / std::tan(fold.half_angle);
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
            const Vector2 away =
                panel.kind() == SurfaceKind::cone ? Vector2(0.0, 1.0) : Vector2(1.0, 0.0);
            add_fold(own, panel.placement * frame.flat, panel.placement.linear() * away, panel);
        }
        return;
    }
    find_way(panel.parent);
    const int before = d_.turn_of_panel[static_cast<std::size_t>(panel.parent)];
    Transform3& way = ways_[static_cast<std::size_t>(index)];
    way = ways_[static_cast<std::size_t>(panel.parent)];
    if (before == own && own >= 0) return;
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
    if (before >= 0) way = way * fold(before).carried(fold(before).depth(0.5 * (begin + end)));
    if (own >= 0) {
        // The material of this panel lies to the left of its side.
        const Vector2 line = (end - begin).normalized();
        add_fold(own, 0.5 * (begin + end), Vector2(-line.y(), line.x()), panel);
    }
}

class Prover {
  public:
    Prover(const Development& development, const std::vector<std::vector<CutCurve>>& loops,
           const Datum& datum, double volume)
        : d_(development), loops_(loops), folding_(development, datum), volume_(volume) {}

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
    const EdgeForm& form(int edge) const { return d_.body.form(edge); }
    double distance_to_cut(const Side& side, const Point3& place, double share) const;
    double flat_area(int panel, bool in_middle) const;
    double cut_length() const;

    const Development& d_;
    const std::vector<std::vector<CutCurve>>& loops_;
    Folding folding_;
    double volume_;
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
        if (number == 0 || number == near || form(use.edge).least_distance(place) >= best) continue;
        const double distance = form(use.edge).distance(place);
        if (distance >= best) continue;
        best = distance;
        nearest = use.edge;
        if (best <= near_enough) return best;
    }
    return best;
}

/// Upper bound of the distance from a surface, by Gauss and Newton's method from parameters near
/// it; nothing if that leaves the box of the face's own parameters.
std::optional<double> distance_from_near(const solid::FaceSurface& surface, Point2 uv,
                                         const Point3& place) {
    constexpr int steps = 12;
    for (int step = 0; step < steps; ++step) {
        const solid::SurfacePoint at = surface.first_order(uv);
        const Vector3 off = at.position - place;
        const double uu = at.du.squaredNorm(), vv = at.dv.squaredNorm(), mixed = at.du.dot(at.dv);
        const double u = at.du.dot(off), v = at.dv.dot(off);
        const double determinant = uu * vv - mixed * mixed;
        const Vector2 change((vv * u - mixed * v) / determinant,
                             (uu * v - mixed * u) / determinant);
        if (!change.allFinite()) return std::nullopt;
        uv -= change;
        if (change.norm() <= 1e-12 * surface.range().norm()) break;
    }
    const Vector2 slack = 1e-9 * surface.range();
    if ((uv.array() < (surface.low() - slack).array()).any() ||
        (uv.array() > (surface.high() + slack).array()).any())
        return std::nullopt;
    return (surface.first_order(uv).position - place).norm();
}

/// Distance from the surface of a cut, of a place at this share of the side.
double Prover::distance_to_cut(const Side& side, const Point3& place, double share) const {
    const solid::FaceSurface& surface = d_.body.surface(side.rim);
    if (surface.kind() == GeomAbs_Plane)
        return std::abs((place - surface.origin()).dot(surface.z()));
    if (surface.kind() == GeomAbs_Cylinder) {
        const Vector3 d = place - surface.origin();
        return std::abs((d - d.dot(surface.z()) * surface.z()).norm() - surface.radius());
    }
    const FaceUse rim = d_.body.use_of(side.edge, side.rim);
    const solid::ParameterCurve& edge = surface.boundary()[static_cast<std::size_t>(rim.use)];
    if (!edge.curve.IsNull()) {
        const gp_Pnt2d uv =
            edge.curve->Value(d_.body.parameter(side.edge, side.along ? share : 1.0 - share));
        const auto distance = distance_from_near(surface, {uv.X(), uv.Y()}, place);
        if (distance && *distance <= d_.tolerance) return *distance;
    }
    BRepBuilderAPI_MakeVertex vertex(gp_Pnt(place.x(), place.y(), place.z()));
    TopoDS_Shape face = d_.body.face(side.rim).shape;
    face.Move(TopLoc_Location(d_.body.graph.placement));
    BRepExtrema_DistShapeShape distance(vertex.Shape(), face);
    return distance.IsDone() ? distance.Value() : INFINITY;
}

/// What deviations of areas are shared out over: a few percent don't matter.
double rough_length(const Curve& curve) {
    if (std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve))
        return length(curve);
    constexpr int chords = 8;
    const Interval range = domain(curve);
    double sum = 0.0;
    Point2 from = point_at(curve, range.first);
    for (int i = 1; i <= chords; ++i) {
        const Point2 to = point_at(curve, range.first + (range.last - range.first) * i / chords);
        sum += (to - from).norm();
        from = to;
    }
    return sum;
}

void Prover::lay_cuts_over() {
    const double half = 0.5 * d_.skin.thickness;
    Deviation near, far, slanted;
    for (const Side& side : d_.sides) {
        if (side.twin >= 0) continue;
        const Panel& panel = d_.panel(side.panel);
        int nearest = -1;
        const auto count = static_cast<double>(side.curves.size());
        for (std::size_t i = 0; i < side.curves.size(); ++i) {
            const Curve curve = transformed(side.curves[i], panel.placement);
            const Interval range = domain(curve);
            for (const double share : shares) {
                const Point2 place =
                    point_at(curve, range.first + share * (range.last - range.first));
                if (side.slanted) {
                    slanted.add(distance_to_cut(side, folding_.folded(place, 0.0, side.panel),
                                                (static_cast<double>(i) + share) / count));
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
            for (const Curve& curve : side.curves) sum += rough_length(curve);
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
            for (const Curve& curve : side.curves) around += rough_length(curve);
        }
        if (!is_square) continue;
        double of_face = d_.body.area(panel.face());
        if (panel.kind() == SurfaceKind::cylinder)
            of_face *= panel.middle_radius() / d_.body.sheet(panel.face()).radius;
        const double off = std::abs(flat_area(static_cast<int>(i), true) - of_face);
        deviation.add(std::max(0.0, off - folded_share * of_face) / around);
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
    const double off = std::abs(by_simpson - volume_) - folded_share * volume_ - by_rule;
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
