#include <BRepTools.hxx>
#include <sstream>

#include "model/kernel/kernel.hpp"
#include "planform/error.hpp"
#include "planform/memory.hpp"
#include "planform/occt.hpp"

namespace planform {

std::string brep_bytes(const Solid& solid) {
    const model::Silence silence;
    return model::guarded(solid.name(), ErrorKind::kernel_failure, [&] {
        std::ostringstream stream;
        stream.imbue(std::locale::classic());
        BRepTools::Write(shape_of(solid), stream, false, false, TopTools_FormatVersion_VERSION_1);
        return std::move(stream).str();
    });
}

}  // namespace planform
