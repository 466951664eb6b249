#include "planform/flatten.hpp"

#include "flatten/flatten_solids.hpp"
#include "flatten/solid_outline.hpp"
#include "planform/occt.hpp"

namespace planform {

ProfileSet silhouette(std::span<const Solid> solids, const Datum& datum,
                      const FlattenOptions& options) {
    const auto add = [&](const Solid& solid, int index, flatten::Outline& outline) {
        flatten::ShapeGraph graph =
            flatten::build_shape_graph(shape_of(solid), datum, flatten::EdgeReading::on_demand);
        flatten::check_closed(graph);
        flatten::add_silhouette(graph, index, options.tolerance, outline);
    };
    return flatten::flatten_all(solids, datum, options, add);
}

}  // namespace planform
