#include <algorithm>
#include <tuple>

#include "features/finder.hpp"
#include "features/guarded.hpp"
#include "features/plate_view.hpp"
#include "planform/features.hpp"
#include "planform/occt.hpp"
#include "solid/shape_graph.hpp"

namespace planform {
namespace {

bool comes_before(const UncuttableFeature& a, const UncuttableFeature& b) {
    const auto key = [](const UncuttableFeature& f) {
        return std::make_tuple(f.side, f.kind, f.place.x(), f.place.y(), f.low, f.faces);
    };
    return key(a) < key(b);
}

StraightCut looked_at(const Solid& solid, const Datum& datum) {
    const TopoDS_Shape& shape = shape_of(solid);
    const features::PlateView view{solid::SectionSolid(solid::build_shape_graph(shape, datum))};
    StraightCut result;
    result.bottom = view.bottom();
    result.top = view.top();
    result.bottom_is_flat = view.bottom_is_flat();
    result.top_is_flat = view.top_is_flat();
    result.features = features::Finder(view).run();
    std::stable_sort(result.features.begin(), result.features.end(), comes_before);
    features::write_texts(result.features);
    return result;
}

}  // namespace

StraightCut straight_cut(const Solid& solid, const Datum& datum) {
    return features::guarded(solid, [&] { return looked_at(solid, datum); });
}

}  // namespace planform
