/// Cavities and bosses: told by where they lie.

#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <cmath>

#include "features/finder.hpp"
#include "model/measure/measure.hpp"

namespace planform::features {
namespace {

/// True if the faces enclose a void, not material.
bool is_void(const PlateView& view, const Region& region) {
    BRep_Builder builder;
    TopoDS_Compound faces;
    builder.MakeCompound(faces);
    for (const std::size_t index : region.faces) {
        const solid::GraphFace& face = view.solid().graph().faces[index];
        builder.Add(faces,
                    face.shape.Oriented(face.outward > 0 ? TopAbs_FORWARD : TopAbs_REVERSED));
    }
    return model::rough_volume(faces) < 0.0;
}

/// The diameter of a body that is a cylinder around one upright axis and nothing wider.
std::optional<double> diameter_of(const PlateView& view, const Region& region) {
    double radius = 0.0;
    for (const std::size_t index : region.faces) {
        const FaceView& face = view.face(index);
        if (face.kind == GeomAbs_Cylinder && face.is_upright() && !face.hollow)
            radius = std::max(radius, face.radius);
    }
    const Vector2 size = region.box.sizes().head<2>();
    const bool fills = radius > 0.0 && (size.array() - 2.0 * radius).abs().maxCoeff() < 1e-6;
    return fills ? std::optional(2.0 * radius) : std::nullopt;
}

}  // namespace

void Finder::find_cavities() {
    const auto all =
        view_.regions([](const FaceView&) { return true; }, [](const Junction&) { return true; });
    if (all.size() < 2) return;
    for (const Region& region : all) {
        if (!is_void(view_, region)) continue;
        add(described(FeatureKind::cavity, FeatureSide::inside, region));
        take(region);
    }
}

void Finder::find_bosses() {
    for (const bool above : {true, false}) {
        const auto stands_out = [&](const FaceView& face) {
            if (!is_left(face.index)) return false;
            return above ? view_.top_is_flat() && face.low() >= view_.top() - same_height &&
                               face.high() > view_.top() + same_height
                         : view_.bottom_is_flat() && face.high() <= view_.bottom() + same_height &&
                               face.low() < view_.bottom() - same_height;
        };
        for (const Region& region :
             view_.regions(stands_out, [](const Junction&) { return true; })) {
            UncuttableFeature boss = described(
                FeatureKind::boss, above ? FeatureSide::top : FeatureSide::bottom, region);
            boss.depth = above ? region.high() - view_.top() : view_.bottom() - region.low();
            boss.diameter = diameter_of(view_, region);
            add(std::move(boss));
            take(region);
        }
    }
}

}  // namespace planform::features
