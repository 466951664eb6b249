#include "flatten/collect/fitted_tolerance.hpp"

#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include "model/kernel/points.hpp"
#include "planform/occt.hpp"
#include "planform/tolerance.hpp"

namespace planform::flatten {
namespace {

/// mm: from here on no tolerance is too fine for a part of less than a kilometre.
constexpr double never_too_fine = 1e-3;

/// Are some of the vertices this far apart? Few are looked at.
bool reach(std::span<const Solid> solids, double extent) {
    Box3 box;
    for (const Solid& solid : solids)
        for (TopExp_Explorer vertex(shape_of(solid), TopAbs_VERTEX); vertex.More(); vertex.Next()) {
            box.extend(model::from_kernel(BRep_Tool::Pnt(TopoDS::Vertex(vertex.Current()))));
            if (box.diagonal().norm() >= extent) return true;
        }
    return false;
}

}  // namespace

double fitted_tolerance(std::span<const Solid> solids, double tolerance) {
    fit_tolerance(tolerance, 0.0);
    if (tolerance >= never_too_fine && reach(solids, tolerance / largest_tolerance_share))
        return tolerance;
    Box3 box;
    for (const Solid& solid : solids) box.extend(solid.bounds());
    return fit_tolerance(tolerance, box.isEmpty() ? 0.0 : box.diagonal().norm());
}

}  // namespace planform::flatten
