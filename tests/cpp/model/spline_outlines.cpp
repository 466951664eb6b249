#include "model/spline_outlines.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Line.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <gp_Pln.hxx>
#include <stdexcept>
#include <utility>

#include "planform/geometry.hpp"

namespace planform::test {
namespace {

/// Gauss-Legendre, 16 nodes (Abramowitz and Stegun, table 25.4; from memory, held by the test that
/// compares a spline with its own polygon of many chords).
constexpr std::array<std::pair<double, double>, 8> gauss_16 = {
    {{0.0950125098376374, 0.1894506104550685},
     {0.2816035507792589, 0.1826034150449236},
     {0.4580167776572274, 0.1691565193950025},
     {0.6178762444026438, 0.1495959888165767},
     {0.7554044083550030, 0.1246289712555339},
     {0.8656312023878318, 0.0951585116824928},
     {0.9445750230732326, 0.0622535239386479},
     {0.9894009349916499, 0.0271524594117541}}};

double uniform(std::mt19937_64& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

int uniform_int(std::mt19937_64& random, int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(random);
}

/// `count` points around the origin, angles growing.
std::vector<gp_Pnt> ring(const OutlineRecipe& recipe, int count, std::mt19937_64& random) {
    const bool goes_through = recipe.kind == OutlineKind::interpolated ||
                              recipe.kind == OutlineKind::interpolated_periodic;
    const double lobes = uniform_int(random, 2, std::max(2, std::min(count / 6, 40)));
    const double phase = uniform(random, 0.0, 2.0 * pi);
    std::vector<gp_Pnt> points;
    for (int i = 0; i < count; ++i) {
        // Angles stray by a third of their distance at most, so they stay in order.
        const double stray = goes_through ? 0.0 : uniform(random, -0.3, 0.3);
        const double angle = 2.0 * pi * (i + stray) / count;
        const double wave =
            goes_through ? 0.5 * std::sin(lobes * angle + phase) : uniform(random, -1.0, 1.0);
        const double r = recipe.radius * (1.0 + recipe.wave * wave);
        points.emplace_back(r * std::cos(angle), r * std::sin(angle), 0.0);
    }
    return points;
}

Handle(Geom_BSplineCurve) through(const std::vector<gp_Pnt>& points, bool is_periodic) {
    std::vector<gp_Pnt> all = points;
    if (!is_periodic) all.push_back(points.front());
    const Handle(TColgp_HArray1OfPnt) given =
        new TColgp_HArray1OfPnt(1, static_cast<int>(all.size()));
    for (std::size_t i = 0; i < all.size(); ++i) given->SetValue(static_cast<int>(i) + 1, all[i]);
    GeomAPI_Interpolate interpolate(given, is_periodic, 1e-9);
    interpolate.Perform();
    if (!interpolate.IsDone()) throw std::runtime_error("no spline through the points");
    return interpolate.Curve();
}

/// Knots 0, 1, ... with unequal steps, and how often each counts: `last` and first are left at 1.
struct Knots {
    std::vector<double> values;
    std::vector<int> counts;
};

/// Knots that hold `poles` poles between the ends: sum of the inner multiplicities is `inner`.
Knots random_knots(int inner, int degree, int creases, std::mt19937_64& random) {
    Knots knots;
    knots.values.push_back(0.0);
    knots.counts.push_back(1);
    const auto next = [&](int count) {
        knots.values.push_back(knots.values.back() + uniform(random, 0.5, 1.5));
        knots.counts.push_back(count);
    };
    int left = inner;
    for (int i = 0; i < creases && left >= degree; ++i) left -= degree;
    const int taken = degree > 0 ? (inner - left) / degree : 0;
    std::vector<int> counts(static_cast<std::size_t>(taken), degree);
    while (left > 0) {
        // Double knots now and then.
        const int count = std::min({left, degree, uniform_int(random, 0, 5) == 0 ? 2 : 1});
        counts.push_back(count);
        left -= count;
    }
    std::shuffle(counts.begin(), counts.end(), random);
    for (const int count : counts) next(count);
    next(1);
    return knots;
}

Handle(Geom_BSplineCurve) made(const std::vector<gp_Pnt>& points, const Knots& knots, int degree,
                               bool is_rational, bool is_periodic, std::mt19937_64& random) {
    const auto count = static_cast<int>(points.size());
    TColgp_Array1OfPnt poles(1, count);
    TColStd_Array1OfReal weights(1, count);
    for (int i = 1; i <= count; ++i) {
        poles(i) = points[static_cast<std::size_t>(i) - 1];
        weights(i) = is_rational ? uniform(random, 0.3, 3.0) : 1.0;
    }
    if (!is_periodic) weights(count) = weights(1);
    const auto distinct = static_cast<int>(knots.values.size());
    TColStd_Array1OfReal values(1, distinct);
    TColStd_Array1OfInteger counts(1, distinct);
    for (int i = 1; i <= distinct; ++i) {
        values(i) = knots.values[static_cast<std::size_t>(i) - 1];
        counts(i) = knots.counts[static_cast<std::size_t>(i) - 1];
    }
    if (is_rational) {
        return new Geom_BSplineCurve(poles, weights, values, counts, degree, is_periodic);
    }
    return new Geom_BSplineCurve(poles, values, counts, degree, is_periodic);
}

template <class Function>
double integral_over_span(const Geom_Curve& curve, double from, double to, int parts,
                          Function&& function) {
    double sum = 0.0;
    for (int part = 0; part < parts; ++part) {
        const double half = 0.5 * (to - from) / parts;
        const double middle = from + (2 * part + 1) * half;
        for (const auto& [node, weight] : gauss_16) {
            for (const double sign : {-1.0, 1.0}) {
                gp_Pnt p;
                gp_Vec d;
                curve.D1(middle + sign * node * half, p, d);
                sum += weight * half * function(p, d);
            }
        }
    }
    return sum;
}

template <class Function>
double integral_along(const Geom_BSplineCurve& curve, int parts, Function&& function) {
    double sum = 0.0;
    for (int i = curve.FirstUKnotIndex(); i < curve.LastUKnotIndex(); ++i)
        sum += integral_over_span(curve, curve.Knot(i), curve.Knot(i + 1), parts, function);
    return sum;
}

double area_integrand(const gp_Pnt& p, const gp_Vec& d) {
    return (p.X() * d.Y() - p.Y() * d.X()) / 2.0;
}

/// Poles from one corner to the next, angles growing, off the straight way by up to `sag`.
std::vector<gp_Pnt> poles_between(const gp_Pnt& from, const gp_Pnt& to, int count, double sag,
                                  std::mt19937_64& random) {
    std::vector<gp_Pnt> poles;
    const gp_Vec way(from, to);
    const gp_Vec out = gp_Vec(way.Y(), -way.X(), 0.0).Normalized();
    for (int i = 0; i < count; ++i) {
        const bool is_end = i == 0 || i == count - 1;
        const double along = is_end ? i : i + uniform(random, -0.3, 0.3);
        const double off = is_end ? 0.0 : uniform(random, -1.0, 1.0) * sag;
        poles.push_back(from.Translated(way * (along / (count - 1)) + out * off));
    }
    poles.back() = to;
    return poles;
}

Handle(Geom_Curve) random_side(const gp_Pnt& from, const gp_Pnt& to, std::mt19937_64& random) {
    const int kind = uniform_int(random, 0, 2);
    if (kind == 0) {
        return new Geom_TrimmedCurve(new Geom_Line(from, gp_Dir(gp_Vec(from, to))), 0.0,
                                     from.Distance(to));
    }
    const double length = from.Distance(to);
    const double sag =
        uniform_int(random, 0, 2) > 0 ? 0.15 * length : std::pow(10.0, uniform(random, -8.0, -3.0));
    const int degree = uniform_int(random, 1, 9);
    const bool is_rational = uniform_int(random, 0, 1) == 0;
    if (kind == 1) {
        const std::vector<gp_Pnt> points = poles_between(from, to, degree + 1, sag, random);
        TColgp_Array1OfPnt poles(1, degree + 1);
        TColStd_Array1OfReal weights(1, degree + 1);
        for (int i = 1; i <= degree + 1; ++i) {
            poles(i) = points[static_cast<std::size_t>(i) - 1];
            weights(i) = uniform(random, 0.3, 3.0);
        }
        if (is_rational) return new Geom_BezierCurve(poles, weights);
        return new Geom_BezierCurve(poles);
    }
    const int count = degree + 1 + uniform_int(random, 1, 20);
    Knots knots = random_knots(count - degree - 1, degree, uniform_int(random, 0, 2), random);
    knots.counts.front() = knots.counts.back() = degree + 1;
    return made(poles_between(from, to, count, sag, random), knots, degree, is_rational, false,
                random);
}

/// Does the angle about the origin grow all along, at 400 places?
bool turns_on(const Geom_Curve& curve) {
    const double first = curve.FirstParameter(), last = curve.LastParameter();
    for (int i = 0; i <= 400; ++i) {
        gp_Pnt p;
        gp_Vec d;
        curve.D1(first + (last - first) * i / 400, p, d);
        if (p.X() * d.Y() - p.Y() * d.X() <= 0.0) return false;
    }
    return true;
}

}  // namespace

std::string OutlineRecipe::describe() const {
    const char* kinds[] = {"clamped", "periodic", "interpolated", "interpolated periodic"};
    return std::string(kinds[static_cast<int>(kind)]) + ", degree " + std::to_string(degree) +
           ", poles " + std::to_string(poles) + (is_rational ? ", rational" : "") + ", creases " +
           std::to_string(creases) + ", wave " + std::to_string(wave);
}

OutlineRecipe random_recipe(std::mt19937_64& random, int most_poles) {
    OutlineRecipe recipe;
    recipe.kind = static_cast<OutlineKind>(uniform_int(random, 0, 3));
    recipe.degree = uniform_int(random, 1, 9);
    // As many small numbers as large ones.
    recipe.poles = static_cast<int>(
        std::exp(uniform(random, std::log(4.0), std::log(static_cast<double>(most_poles)))));
    recipe.is_rational = uniform_int(random, 0, 2) == 0;
    recipe.creases = uniform_int(random, 0, 3);
    recipe.radius = uniform(random, 5.0, 60.0);
    recipe.wave = uniform(random, 0.0, 0.5) / (1.0 + recipe.poles / 60.0);
    if (recipe.kind == OutlineKind::clamped)
        recipe.poles = std::max(recipe.poles, recipe.degree + 3);
    if (recipe.kind == OutlineKind::periodic)
        recipe.poles = std::max(recipe.poles, 2 * recipe.degree + 2);
    return recipe;
}

Handle(Geom_BSplineCurve) outline_curve(const OutlineRecipe& recipe, std::mt19937_64& random) {
    std::vector<gp_Pnt> points;
    switch (recipe.kind) {
        case OutlineKind::interpolated:
        case OutlineKind::interpolated_periodic:
            points = ring(recipe, recipe.poles, random);
            return through(points, recipe.kind == OutlineKind::interpolated_periodic);
        case OutlineKind::clamped: {
            points = ring(recipe, recipe.poles - 1, random);
            points.push_back(points.front());
            Knots knots = random_knots(recipe.poles - recipe.degree - 1, recipe.degree,
                                       recipe.creases, random);
            knots.counts.front() = knots.counts.back() = recipe.degree + 1;
            return made(points, knots, recipe.degree, recipe.is_rational, false, random);
        }
        case OutlineKind::periodic: {
            points = ring(recipe, recipe.poles, random);
            // The first knot's count stands for the last one's, too; a crease may lie at the start.
            const bool starts_with_crease = recipe.creases > 1 && recipe.poles > 2 * recipe.degree;
            const int first = starts_with_crease ? recipe.degree : 1;
            Knots knots = random_knots(recipe.poles - first, recipe.degree, recipe.creases, random);
            knots.counts.front() = knots.counts.back() = first;
            return made(points, knots, recipe.degree, recipe.is_rational, true, random);
        }
    }
    throw std::logic_error("a kind of outline without a case");
}

bool is_star_shaped(const Geom_BSplineCurve& curve) {
    for (int i = curve.FirstUKnotIndex(); i < curve.LastUKnotIndex(); ++i) {
        for (int k = 0; k < 8; ++k) {
            gp_Pnt point;
            gp_Vec tangent;
            curve.D1(curve.Knot(i) + (curve.Knot(i + 1) - curve.Knot(i)) * (k + 0.5) / 8.0, point,
                     tangent);
            if (point.X() * tangent.Y() - point.Y() * tangent.X() <= 0.0) return false;
        }
    }
    return true;
}

double enclosed_area(const Geom_BSplineCurve& curve) {
    return integral_along(curve, curve.IsRational() ? 16 : 1, area_integrand);
}

double arc_length(const Geom_BSplineCurve& curve) {
    return integral_along(curve, 16, [](const gp_Pnt&, const gp_Vec& d) { return d.Magnitude(); });
}

double first_moment(const Geom_BSplineCurve& curve) {
    return integral_along(curve, curve.IsRational() ? 16 : 2, [](const gp_Pnt& p, const gp_Vec& d) {
        return p.X() * p.X() * d.Y() / 2.0;
    });
}

TopoDS_Face outline_face(const Handle(Geom_BSplineCurve) & curve) {
    const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(curve).Edge();
    return BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)),
                                   BRepBuilderAPI_MakeWire(edge).Wire())
        .Face();
}

TopoDS_Shape outline_prism(const Handle(Geom_BSplineCurve) & curve, double height) {
    return BRepPrimAPI_MakePrism(outline_face(curve), gp_Vec(0.0, 0.0, height)).Shape();
}

std::vector<Handle(Geom_Curve)> random_chain(std::mt19937_64& random) {
    const int count = uniform_int(random, 3, 9);
    std::vector<gp_Pnt> corners;
    for (int i = 0; i < count; ++i) {
        const double angle = 2.0 * pi * (i + uniform(random, -0.25, 0.25)) / count;
        const double r = uniform(random, 15.0, 25.0);
        corners.emplace_back(r * std::cos(angle), r * std::sin(angle), 0.0);
    }
    std::vector<Handle(Geom_Curve)> chain;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        Handle(Geom_Curve) side;
        do {
            side = random_side(corners[i], corners[(i + 1) % corners.size()], random);
        } while (!turns_on(*side));
        chain.push_back(side);
    }
    return chain;
}

double enclosed_area(const std::vector<Handle(Geom_Curve)>& chain) {
    double area = 0.0;
    for (const Handle(Geom_Curve) & curve : chain) {
        const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve);
        area += spline.IsNull() ? integral_over_span(*curve, curve->FirstParameter(),
                                                     curve->LastParameter(), 16, area_integrand)
                                : integral_along(*spline, 16, area_integrand);
    }
    return area;
}

TopoDS_Shape outline_prism(const std::vector<Handle(Geom_Curve)>& chain, double height) {
    BRepBuilderAPI_MakeWire wire;
    for (const Handle(Geom_Curve) & curve : chain) wire.Add(BRepBuilderAPI_MakeEdge(curve).Edge());
    const TopoDS_Face face =
        BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), wire.Wire()).Face();
    return BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 0.0, height)).Shape();
}

gp_Trsf random_motion(std::mt19937_64& random, double reach) {
    std::normal_distribution<double> normal;
    gp_Trsf turn, shift;
    turn.SetRotation(
        gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(normal(random), normal(random), normal(random))),
        uniform(random, 0.0, 2.0 * pi));
    shift.SetTranslation(gp_Vec(uniform(random, -reach, reach), uniform(random, -reach, reach),
                                uniform(random, -reach, reach)));
    return shift * turn;
}

}  // namespace planform::test
