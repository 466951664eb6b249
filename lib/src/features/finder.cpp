#include "features/finder.hpp"

#include <Precision.hxx>
#include <algorithm>
#include <gp_Lin.hxx>
#include <utility>

#include "model/kernel/points.hpp"

namespace planform::features {

Finder::Finder(const PlateView& view) : view_(view), taken_(view.faces().size(), false) {
    for (const FaceView& face : view.faces())
        taken_[face.index] = face.role == FaceRole::top || face.role == FaceRole::bottom;
}

std::vector<UncuttableFeature> Finder::run() {
    find_cavities();
    find_bosses();
    find_cross_holes();
    group_surfaces();
    find_covered();
    find_floors();
    find_loose_grooves();
    find_slanted();
    return std::move(features_);
}

void Finder::take(const Region& region) {
    for (const std::size_t face : region.faces) taken_[face] = true;
}

bool Finder::meets(const Region& region, FaceRole role) const {
    bool found = false;
    view_.visit_rim(region, [&](const Junction&, std::size_t other) {
        found = found || view_.face(other).role == role;
    });
    return found;
}

bool Finder::meets_any(const Point3& place, bool up, const std::vector<std::size_t>& faces) const {
    const gp_Trsf back = view_.solid().graph().placement.Inverted();
    const gp_Pnt from = model::to_kernel_point(place).Transformed(back);
    const gp_Lin line(from, gp_Dir(0.0, 0.0, up ? 1.0 : -1.0).Transformed(back));
    for (const std::size_t face : faces) {
        const Box3& box = view_.face(face).box;
        if (place.x() < box.min().x() || place.x() > box.max().x() || place.y() < box.min().y() ||
            place.y() > box.max().y())
            continue;
        auto& intersector = lines_[face];
        if (!intersector)
            intersector = std::make_unique<IntCurvesFace_Intersector>(
                view_.solid().graph().faces[face].shape, Precision::Confusion());
        intersector->Perform(line, Precision::Confusion(), Precision::Infinite());
        if (intersector->IsDone() && intersector->NbPnt() > 0) return true;
    }
    return false;
}

UncuttableFeature Finder::described(FeatureKind kind, FeatureSide side,
                                    const Region& region) const {
    UncuttableFeature feature;
    feature.kind = kind;
    feature.side = side;
    feature.box = Box2(region.box.min().head<2>(), region.box.max().head<2>());
    feature.place = feature.box.center();
    feature.low = region.low() - view_.bottom();
    feature.high = region.high() - view_.bottom();
    feature.depth = region.high() - region.low();
    for (const std::size_t face : region.faces) feature.faces.push_back(view_.face(face).number);
    std::sort(feature.faces.begin(), feature.faces.end());
    feature.faces.erase(std::unique(feature.faces.begin(), feature.faces.end()),
                        feature.faces.end());
    return feature;
}

}  // namespace planform::features
