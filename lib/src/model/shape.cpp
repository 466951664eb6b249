#include "model/kernel/kernel.hpp"
#include "model/kernel/units.hpp"
#include "model/read/collect.hpp"
#include "planform/occt.hpp"

namespace planform {

Model from_shape(const TopoDS_Shape& shape, const LoadOptions& options) {
    model::check(options);
    if (shape.IsNull()) {
        throw LoadError(ErrorKind::no_solid,
                        "memory: the shape is null; hand over a shape with a solid");
    }
    const model::Silence silence;
    return model::guarded("memory", ErrorKind::kernel_failure, [&] {
        return model::model_of_shape(shape, model::unitless_factor(options),
                                     options.unit.empty() ? "mm (assumed)" : options.unit, "memory",
                                     {});
    });
}

}  // namespace planform
