#include "model/measure/face_integral.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "curve/quadrature.hpp"
#include "model/kernel/points.hpp"
#include "model/measure/planar_integral.hpp"
#include "model/measure/smooth_pieces.hpp"
#include "model/measure/strips.hpp"

namespace planform::model {

namespace {

/// Cone, vector area, area, and the integral of |P - apex| over the area.
using Sums = Eigen::Array<double, 6, 1>;
constexpr Eigen::Index cone_row = 0, area_row = 4, moment_row = 5;

/// The error that is left, a share of the face's area, or of area times distance.
constexpr double agreement = 1e-11;
/// Places of a face at which it may be evaluated in search of that, at least.
constexpr std::size_t least_budget = 60'000;
/// Pieces of the inner integral are not made finer than this.
constexpr int finest = 8;
/// Of a quick integral, a direction and piece of an edge.
constexpr int quick_nodes = 5;
constexpr std::size_t quick_breaks = 8;
/// Along the strip between an edge that is no polynomial and its image on the surface.
constexpr int strip_nodes = 20;
/// A place in the parameters: the one that is integrated over along the boundary, and the other.
struct Place {
    double outer, inner;
};

/// A place on the way along the boundary and its share of the outer integral.
struct RuleNode {
    Place place;
    double weight;
};

/// A curve in the parameters, with the way it is run along.
struct FaceSide {
    TopoDS_Edge edge;
    Geom2dAdaptor_Curve curve;
    double first, last;
    bool is_forward;

    double from() const { return is_forward ? first : last; }
    double to() const { return is_forward ? last : first; }
    bool is_line() const { return curve.GetType() == GeomAbs_Line; }
};

class CurvedFace {
  public:
    CurvedFace(const TopoDS_Face& face, const Point3& apex, Effort effort)
        : face_(TopoDS::Face(face.Oriented(TopAbs_FORWARD))),
          surface_(face_, Standard_False),
          apex_(apex),
          effort_(effort),
          outer_(pieces_along_u(surface_of(face_))),
          inner_(pieces_along_v(surface_of(face_))) {
        inner_is_u_ = cost_as_inner(outer_) < cost_as_inner(inner_);
        if (inner_is_u_) std::swap(outer_, inner_);
        if (effort_ == Effort::quick) {
            outer_ = outer_.thinned(quick_breaks);
            inner_ = inner_.thinned(quick_breaks);
        }
    }

    std::optional<FaceIntegral> run() {
        if (!read()) return std::nullopt;
        const Sums sums = sides_.empty() ? whole_surface() : within_boundary();
        FaceIntegral result{sums[cone_row], sums.segment<3>(1), std::abs(sums[area_row])};
        if (effort_ == Effort::volume) add_strips(result);
        return result;
    }

  private:
    /// As it was before it was placed: the parameters are the same.
    static Handle(Geom_Surface) surface_of(const TopoDS_Face& face) {
        TopLoc_Location location;
        return BRep_Tool::Surface(face, location);
    }

    /// The inner integral is taken at each place of the outer one: better where it needs no second
    /// look, else where it has few pieces.
    static double cost_as_inner(const SmoothPieces& along) {
        const auto pieces = static_cast<double>(along.breaks.size() + 1);
        return pieces * along.nodes(3) * (along.is_exact() ? 1.0 : 1000.0);
    }

    bool read() {
        for (TopExp_Explorer edges(face_, TopAbs_EDGE); edges.More(); edges.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
            if (!bounds_material(edge)) continue;
            double first = 0.0, last = 0.0;
            const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face_, first, last);
            if (curve.IsNull()) return false;
            sides_.push_back({edge, Geom2dAdaptor_Curve(curve, first, last), first, last,
                              edge.Orientation() == TopAbs_FORWARD});
        }
        return true;
    }

    /// A surface that is closed by itself and has no edges.
    Sums whole_surface() {
        inner_is_u_ = false;
        outer_ = pieces_along_u(surface_of(face_));
        inner_ = pieces_along_v(surface_of(face_));
        start_ = surface_.FirstVParameter();
        const double v_end = surface_.LastVParameter();
        Sums sum = Sums::Zero();
        const std::vector<double> stops =
            outer_.cover(surface_.FirstUParameter(), surface_.LastUParameter());
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const double middle = 0.5 * (stops[i] + stops[i + 1]);
            const double half = 0.5 * (stops[i + 1] - stops[i]);
            const auto& rule = detail::gauss_rule(16);
            std::vector<RuleNode> nodes;
            for (std::size_t k = 0; k < rule.nodes.size(); ++k)
                nodes.push_back({{middle + half * rule.nodes[k], v_end}, half * rule.weights[k]});
            sum += inner(nodes, 2);
        }
        return sum;
    }

    Sums within_boundary() {
        start_ = place_of(sides_.front().curve.Value(sides_.front().first)).inner;
        std::vector<Piece> pieces;
        for (const FaceSide& side : sides_) add_pieces(side, pieces);
        Sums sum = Sums::Zero();
        for (Piece& piece : pieces) {
            piece.value = over(piece);
            sum += piece.value;
        }
        if (effort_ == Effort::quick) return -sum;
        // Areas on the way are larger than the face's own where boundaries cancel.
        Sums most = Sums::Zero();
        for (const Piece& piece : pieces) most += piece.value.abs();
        scale_.setConstant(most[area_row]);
        scale_[cone_row] = scale_[moment_row] = most[moment_row];
        return -refined(pieces);
    }

    struct Piece {
        const FaceSide* side;
        double from, to;
        int nodes;
        bool is_exact;
        int fineness = 1;  ///< of the inner integral
        Sums value = Sums::Zero();
    };

    /// A piece, its halves, and the error that their sum is taken to have, a share of the scale.
    struct Halved {
        double error;
        Piece left, right;
    };

    int nodes_along(const SmoothPieces& along) const {
        if (effort_ == Effort::quick) return quick_nodes;
        return is_exact_surface() ? along.nodes(3) : std::max(general_nodes, along.nodes(3));
    }

    /// Does one pass give rounding between the surface's breaks?
    bool is_exact_surface() const {
        if (effort_ == Effort::quick) return true;
        if (!outer_.is_exact() || !inner_.is_exact()) return false;
        if (effort_ == Effort::volume) return true;
        // The length of the normal is no polynomial on other surfaces.
        switch (surface_.GetType()) {
            case GeomAbs_Cylinder:
            case GeomAbs_Cone:
            case GeomAbs_Sphere:
            case GeomAbs_Torus:
                return true;
            default:
                return false;
        }
    }

    void add_pieces(const FaceSide& side, std::vector<Piece>& pieces) {
        const bool is_exact = is_exact_surface();
        if (side.is_line()) {
            const gp_Dir2d direction = side.curve.Line().Direction();
            const double along = inner_is_u_ ? direction.Y() : direction.X();
            const double across = inner_is_u_ ? direction.X() : direction.Y();
            if (along == 0.0) return;
            if (across == 0.0) {
                const std::vector<double> stops =
                    outer_.cover(place_of(side.curve.Value(side.from())).outer,
                                 place_of(side.curve.Value(side.to())).outer);
                const double at_zero = place_of(side.curve.Line().Location()).outer;
                const int nodes = nodes_along(outer_);
                for (std::size_t i = 0; i + 1 < stops.size(); ++i)
                    pieces.push_back({&side, (stops[i] - at_zero) / along,
                                      (stops[i + 1] - at_zero) / along, nodes, is_exact});
                return;
            }
        }
        const std::vector<double> stops = stops_of(side);
        const int nodes = effort_ == Effort::quick ? quick_nodes : general_nodes;
        for (std::size_t i = 0; i + 1 < stops.size(); ++i)
            pieces.push_back({&side, stops[i], stops[i + 1], nodes, effort_ == Effort::quick});
    }

    /// Parameters of the side, in its own order, at which it or the surface under it has a break.
    std::vector<double> stops_of(const FaceSide& side) const {
        const std::vector<double> own = own_stops(side);
        std::vector<double> stops{own.front()};
        for (std::size_t i = 0; i + 1 < own.size(); ++i) {
            std::vector<double> inside;
            for (const bool over_inner : {false, true})
                add_crossings(side, own[i], own[i + 1], over_inner, inside);
            std::sort(inside.begin(), inside.end());
            for (const double t : inside)
                if (t > stops.back()) stops.push_back(t);
            stops.push_back(own[i + 1]);
        }
        if (!side.is_forward) std::reverse(stops.begin(), stops.end());
        return stops;
    }

    std::vector<double> own_stops(const FaceSide& side) const {
        const std::vector<double> own = pieces_of(side.curve.Curve()).cover(side.first, side.last);
        if (effort_ != Effort::quick || own.size() <= quick_breaks) return own;
        std::vector<double> few;
        for (std::size_t i = 0; i <= quick_breaks; ++i)
            few.push_back(own[i * (own.size() - 1) / quick_breaks]);
        return few;
    }

    /// Where a smooth stretch of a side goes over breaks of the surface: between samples that lie
    /// on two sides of one, by bisection.
    void add_crossings(const FaceSide& side, double from, double to, bool over_inner,
                       std::vector<double>& found) const {
        const SmoothPieces& along = over_inner ? inner_ : outer_;
        const auto at = [&](double t) {
            const Place place = place_of(side.curve.Value(t));
            return over_inner ? place.inner : place.outer;
        };
        const int samples = side.is_line() ? 1 : 6;
        double t_before = from, x_before = at(from);
        for (int i = 1; i <= samples; ++i) {
            const double t = from + (to - from) * i / samples, x = at(t);
            const std::vector<double> breaks = along.cover(x_before, x);
            for (std::size_t k = 1; k + 1 < breaks.size(); ++k) {
                double low = t_before, high = t;
                for (int step = 0; step < 60 && high - low > 1e-15 * std::abs(high); ++step) {
                    const double middle = 0.5 * (low + high);
                    ((at(middle) > breaks[k]) == (x > x_before) ? high : low) = middle;
                }
                found.push_back(0.5 * (low + high));
            }
            t_before = t;
            x_before = x;
        }
    }

    /// Integral of F du along a piece of the boundary.
    Sums over(const Piece& piece) {
        const auto& rule = detail::gauss_rule(piece.nodes);
        const double middle = 0.5 * (piece.from + piece.to), half = 0.5 * (piece.to - piece.from);
        nodes_.clear();
        for (std::size_t i = 0; i < rule.nodes.size(); ++i) {
            gp_Pnt2d place;
            gp_Vec2d speed;
            piece.side->curve.D1(middle + half * rule.nodes[i], place, speed);
            const double weight = half * rule.weights[i] * (inner_is_u_ ? -speed.Y() : speed.X());
            if (weight != 0.0) nodes_.push_back({place_of(place), weight});
        }
        return inner(nodes_, piece.fineness);
    }

    /// Bisects the piece with the largest error until the sum of errors is small, or what may be
    /// spent on a face is spent: where the surface has kinks that nothing tells of.
    Sums refined(const std::vector<Piece>& pieces) {
        std::vector<Halved> open;
        const auto by_error = [](const Halved& a, const Halved& b) { return a.error < b.error; };
        double errors = 0.0;
        const auto add = [&](const Piece& piece) {
            open.push_back(halved(piece));
            errors += open.back().error;
            std::push_heap(open.begin(), open.end(), by_error);
        };
        Sums sum = Sums::Zero();
        evaluations_ = 0;
        for (const Piece& piece : pieces) {
            if (piece.is_exact) {
                sum += piece.value;
            } else {
                add(piece);
            }
        }
        const std::size_t most = std::max(least_budget, 4 * evaluations_);
        while (!open.empty() && errors > agreement && evaluations_ < most) {
            std::pop_heap(open.begin(), open.end(), by_error);
            const Halved worst = open.back();
            open.pop_back();
            errors -= worst.error;
            add(worst.left);
            add(worst.right);
        }
        for (const Halved& halves : open) sum += halves.left.value + halves.right.value;
        return sum;
    }

    Halved halved(const Piece& piece) {
        Halved result{0.0, piece, piece};
        result.left.to = result.right.from = 0.5 * (piece.from + piece.to);
        const bool needs_finer = !inner_.is_exact() || effort_ == Effort::area;
        for (Piece* half : {&result.left, &result.right}) {
            if (needs_finer) half->fineness = std::min(finest, 2 * piece.fineness);
            half->value = over(*half);
        }
        const Sums change = (result.left.value + result.right.value - piece.value).abs();
        const Eigen::Index first = effort_ == Effort::area ? area_row : cone_row;
        const Eigen::Index rows = effort_ == Effort::area ? 1 : 4;
        for (Eigen::Index row = first; row < first + rows; ++row)
            if (scale_[row] > 0.0)
                result.error = std::max(result.error, error_after(change[row] / scale_[row]));
        return result;
    }

    /// What is left when a value has changed so much by halving: R. Piessens et al., QUADPACK,
    /// Springer 1983, section 3.4.1.
    static double error_after(double change) {
        return std::min(change, std::pow(200.0 * change, 1.5));
    }

    /// Sum over the nodes of the integral over v from the start: cell by cell of the surface, as
    /// that is how it evaluates fastest.
    Sums inner(const std::vector<RuleNode>& nodes, int fineness) const {
        Sums sum = Sums::Zero();
        double low = start_, high = start_;
        for (const RuleNode& node : nodes) {
            low = std::min(low, node.place.inner);
            high = std::max(high, node.place.inner);
        }
        if (!(low < high)) return sum;
        const auto& rule = detail::gauss_rule(nodes_along(inner_));
        const std::vector<double> stops = inner_.cover(low, high);
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            for (const RuleNode& node : nodes) {
                const double from = std::max(stops[i], std::min(start_, node.place.inner));
                const double to = std::min(stops[i + 1], std::max(start_, node.place.inner));
                if (!(from < to)) continue;
                const double weight = node.place.inner < start_ ? -node.weight : node.weight;
                for (int part = 0; part < fineness; ++part) {
                    const double half = 0.5 * (to - from) / fineness;
                    const double middle = from + (2 * part + 1) * half;
                    for (std::size_t k = 0; k < rule.nodes.size(); ++k)
                        add({node.place.outer, middle + half * rule.nodes[k]},
                            weight * half * rule.weights[k], sum);
                }
            }
        }
        return sum;
    }

    Place place_of(const gp_Pnt2d& p) const {
        return inner_is_u_ ? Place{p.Y(), p.X()} : Place{p.X(), p.Y()};
    }

    void add(const Place& place, double weight, Sums& sum) const {
        gp_Pnt point;
        gp_Vec along_u, along_v;
        const double u = inner_is_u_ ? place.inner : place.outer;
        const double v = inner_is_u_ ? place.outer : place.inner;
        surface_.D1(u, v, point, along_u, along_v);
        ++evaluations_;
        const Vector3 arm = from_apex(point);
        const Vector3 normal = from_kernel(along_u).cross(from_kernel(along_v));
        const double length = normal.norm();
        sum[cone_row] += weight * arm.dot(normal) / 3.0;
        sum.segment<3>(1) += weight * normal.array();
        sum[area_row] += weight * length;
        sum[moment_row] += weight * length * arm.norm();
    }

    Vector3 from_apex(const gp_Pnt& point) const { return from_kernel(point) - apex_; }

    void add_strips(FaceIntegral& result) const {
        if (sides_.empty()) return;
        Strips strips;
        for (const FaceSide& side : sides_) {
            if (!BRep_Tool::Degenerated(side.edge)) add_strip(side, strips);
        }
        result.unexplained = strips.unexplained(result.vector_area);
        result.cone += strips.cone();
        result.vector_area += strips.vector_area();
    }

    void add_strip(const FaceSide& side, Strips& strips) const {
        const BRepAdaptor_Curve curve(side.edge);
        const double first = curve.FirstParameter();
        const double rate = (curve.LastParameter() - first) / (side.last - side.first);
        std::vector<double> stops;
        const SmoothPieces along = pieces_of(curve.Curve().Curve());
        for (const double t : along.cover(first, curve.LastParameter()))
            stops.push_back(side.first + (t - first) / rate);
        const std::vector<double> own = stops_of(side);
        stops.insert(stops.end(), own.begin(), own.end());
        std::sort(stops.begin(), stops.end());
        // Position times speed has no more than two factors; what is no polynomial gets as many
        // nodes as the law above needs for its 1e-5.
        const auto& rule =
            detail::gauss_rule(along.is_exact() ? std::max(4, along.nodes(2)) : strip_nodes);
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const double middle = 0.5 * (stops[i] + stops[i + 1]);
            const double half = 0.5 * (stops[i + 1] - stops[i]);
            if (!(half > 0.0)) continue;
            for (std::size_t k = 0; k < rule.nodes.size(); ++k) {
                const double t = middle + half * rule.nodes[k];
                gp_Pnt2d place;
                gp_Vec2d speed;
                side.curve.D1(t, place, speed);
                gp_Pnt on_surface, on_edge;
                gp_Vec along_u, along_v, tangent;
                surface_.D1(place.X(), place.Y(), on_surface, along_u, along_v);
                curve.D1(first + (t - side.first) * rate, on_edge, tangent);
                const gp_Vec image = speed.X() * along_u + speed.Y() * along_v;
                strips.add((side.is_forward ? 1.0 : -1.0) * half * rule.weights[k],
                           from_apex(on_edge), rate * from_kernel(tangent), from_apex(on_surface),
                           from_kernel(image));
            }
        }
        strips.end_edge(BRep_Tool::Tolerance(side.edge));
    }

    /// Along curves that are no line of the parameters.
    static constexpr int general_nodes = 10;

    TopoDS_Face face_;
    BRepAdaptor_Surface surface_;
    Point3 apex_;
    Effort effort_;
    SmoothPieces outer_, inner_;
    bool inner_is_u_ = false;
    std::vector<FaceSide> sides_;
    std::vector<RuleNode> nodes_;
    double start_ = 0.0;  ///< of the inner integral
    Sums scale_ = Sums::Zero();
    mutable std::size_t evaluations_ = 0;
};

}  // namespace

std::optional<FaceIntegral> integral_over(const TopoDS_Face& face, const Point3& apex,
                                          Effort effort) {
    const BRepAdaptor_Surface surface(face, Standard_False);
    std::optional<FaceIntegral> result =
        surface.GetType() == GeomAbs_Plane
            ? integral_over_plane(face, surface.Plane(), apex, effort)
            : CurvedFace(face, apex, effort).run();
    if (result && face.Orientation() == TopAbs_REVERSED) {
        result->cone = -result->cone;
        result->vector_area = -result->vector_area;
    }
    return result;
}

}  // namespace planform::model
