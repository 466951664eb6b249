#include "flatten/zero_sets/section_seeds.hpp"

#include <GeomConvert_BSplineSurfaceToBezierSurface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierSurface.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "flatten/bounds/halves.hpp"
#include "flatten/curves/sign_scan.hpp"
#include "flatten/zero_sets/plane_cut.hpp"

namespace planform::flatten {
namespace {

/// Weight times height on a rectangle of parameters, in Bernstein form.
struct HeightPatch {
    Box2 box;
    int m, n;               ///< degrees in u and v
    std::vector<double> c;  ///< row by row in v for each step of u
    double at(int i, int j) const { return c[static_cast<std::size_t>(i * (n + 1) + j)]; }
    double& at(int i, int j) { return c[static_cast<std::size_t>(i * (n + 1) + j)]; }

    bool has_one_sign() const {
        const auto [low, high] = std::minmax_element(c.begin(), c.end());
        return *low >= -in_plane || *high <= in_plane;
    }

    bool is_monotone(bool by_u) const {
        bool rises = true, falls = true;
        for (int i = 0; i + (by_u ? 1 : 0) <= m; ++i)
            for (int j = 0; j + (by_u ? 0 : 1) <= n; ++j) {
                const double step = (by_u ? at(i + 1, j) : at(i, j + 1)) - at(i, j);
                rises = rises && step > 0.0;
                falls = falls && step < 0.0;
            }
        return rises || falls;
    }

    std::pair<HeightPatch, HeightPatch> halves(bool across_u) const {
        HeightPatch first = *this, second = *this;
        const int steps = across_u ? m : n, others = across_u ? n : m;
        for (int other = 0; other <= others; ++other) {
            std::vector<double> high;
            for (int i = 0; i <= steps; ++i) high.push_back(across_u ? at(i, other) : at(other, i));
            const std::vector<double> low = take_first_half(high);
            for (int i = 0; i <= steps; ++i) {
                const auto k = static_cast<std::size_t>(i);
                (across_u ? first.at(i, other) : first.at(other, i)) = low[k];
                (across_u ? second.at(i, other) : second.at(other, i)) = high[k];
            }
        }
        const Point2 middle = box.center();
        const Eigen::Index axis = across_u ? 0 : 1;
        first.box.max()[axis] = middle[axis];
        second.box.min()[axis] = middle[axis];
        return {std::move(first), std::move(second)};
    }
};

class SeedFinder {
  public:
    explicit SeedFinder(const HeightField& field)
        : field_(field), box_(field.surface().low(), field.surface().high()) {}

    std::vector<Point2> run() {
        const GeomAdaptor_Surface& s = field_.surface().adaptor();
        Handle(Geom_BSplineSurface) spline;
        if (s.GetType() == GeomAbs_BSplineSurface) spline = s.BSpline();
        if (s.GetType() == GeomAbs_BezierSurface)
            search(patch_of(*s.Bezier(), Box2(Point2(0.0, 0.0), Point2(1.0, 1.0))), 0);
        else if (!spline.IsNull())
            search_spline(Handle(Geom_BSplineSurface)::DownCast(spline->Copy()));
        else if (auto known = field_.kind().section_seeds(field_.surface(), field_.level()))
            return std::move(*known);
        else
            search_grid();
        return std::move(seeds_);
    }

  private:
    static constexpr int deepest = 24;  ///< halvings, in both directions together

    HeightPatch patch_of(const Geom_BezierSurface& bezier, const Box2& box) const {
        HeightPatch patch{box, bezier.UDegree(), bezier.VDegree(), {}};
        for (int i = 1; i <= bezier.NbUPoles(); ++i)
            for (int j = 1; j <= bezier.NbVPoles(); ++j) {
                const gp_Pnt pole = bezier.Pole(i, j).Transformed(field_.surface().placement());
                patch.c.push_back(bezier.Weight(i, j) * (pole.Z() - field_.level()));
            }
        return patch;
    }

    void search_spline(const Handle(Geom_BSplineSurface) & spline) {
        const Vector2 period(spline->IsUPeriodic() ? spline->UPeriod() : 0.0,
                             spline->IsVPeriodic() ? spline->VPeriod() : 0.0);
        if (spline->IsUPeriodic()) spline->SetUNotPeriodic();
        if (spline->IsVPeriodic()) spline->SetVNotPeriodic();
        GeomConvert_BSplineSurfaceToBezierSurface split(spline);
        TColStd_Array1OfReal u(1, split.NbUPatches() + 1), v(1, split.NbVPatches() + 1);
        split.UKnots(u);
        split.VKnots(v);
        for (int i = 1; i <= split.NbUPatches(); ++i)
            for (int j = 1; j <= split.NbVPatches(); ++j) {
                const Box2 knots(Point2(u(i), v(j)), Point2(u(i + 1), v(j + 1)));
                search_turns(*split.Patch(i, j), knots, period);
            }
    }

    /// A face of a periodic surface may lie turns away from the knots.
    void search_turns(const Geom_BezierSurface& bezier, const Box2& knots, const Vector2& period) {
        const auto turns = [&](Eigen::Index axis) {
            std::vector<double> shifts = {0.0};
            if (period[axis] > 0.0) shifts = {-period[axis], 0.0, period[axis]};
            return shifts;
        };
        for (const double du : turns(0))
            for (const double dv : turns(1)) {
                const Box2 moved = knots.translated(Vector2(du, dv));
                if (moved.intersects(box_)) search(patch_of(bezier, moved), 0);
            }
    }

    void search(const HeightPatch& patch, int depth) {
        if (patch.has_one_sign() || !patch.box.intersects(box_)) return;
        if (depth >= deepest || patch.is_monotone(true) || patch.is_monotone(false)) {
            scan_sides(patch.box, 3);
            return;
        }
        const Vector2 size = patch.box.sizes().cwiseQuotient(box_.sizes().cwiseMax(1e-300));
        const auto [first, second] = patch.halves(size.x() >= size.y());
        search(first, depth + 1);
        search(second, depth + 1);
    }

    void search_grid() {
        constexpr int steps = 24;
        const Vector2 size = box_.sizes() / steps;
        for (int i = 0; i < steps; ++i)
            for (int j = 0; j < steps; ++j) {
                const Point2 corner = box_.min() + size.cwiseProduct(Vector2(i, j));
                // The other two sides are those of the next cells, or lie on the boundary.
                scan_side(corner, Point2(corner + Vector2(size.x(), 0.0)), 2);
                scan_side(corner, Point2(corner + Vector2(0.0, size.y())), 2);
            }
    }

    void scan_sides(const Box2& box, int samples) {
        const Point2 a = box.min(), c = box.max(), b(c.x(), a.y()), d(a.x(), c.y());
        scan_side(a, b, samples);
        scan_side(b, c, samples);
        scan_side(d, c, samples);
        scan_side(a, d, samples);
    }

    void scan_side(const Point2& from, const Point2& to, int samples) {
        const auto at = [&](double t) -> Point2 {
            return (from + t * (to - from)).cwiseMax(box_.min()).cwiseMin(box_.max());
        };
        const auto height = [&](double t) { return field_.value(at(t)); };
        const std::vector<double> roots = scan_sign(height, 0.0, 1.0, samples).roots;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            // What stays in the plane on one side of it only touches. A root may lie at the very
            // end of the side that is looked at: then the face beyond it tells.
            const double before = i > 0 ? roots[i - 1] : -1.0;
            const double after = i + 1 < roots.size() ? roots[i + 1] : 2.0;
            if (leaves_plane(height, roots[i], before) && leaves_plane(height, roots[i], after))
                seeds_.push_back(at(roots[i]));
        }
    }

    template <typename Height>
    static bool leaves_plane(const Height& height, double from, double to) {
        for (const double share : {0.25, 0.5, 0.75, 0.1, 1.0})
            if (std::abs(height(from + share * (to - from))) > in_plane) return true;
        return false;
    }

    const HeightField& field_;
    Box2 box_;
    std::vector<Point2> seeds_;
};

}  // namespace

std::vector<Point2> section_seeds(const HeightField& field) { return SeedFinder(field).run(); }

}  // namespace planform::flatten
