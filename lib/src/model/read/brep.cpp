#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BinTools.hxx>
#include <TopoDS_Shape.hxx>

#include "model/kernel/kernel.hpp"
#include "model/kernel/units.hpp"
#include "model/read/collect.hpp"
#include "model/read/formats.hpp"
#include "model/read/memory_stream.hpp"

namespace planform::model {

namespace {

[[noreturn]] void refuse_brep(const std::string& source, const std::string& why) {
    throw LoadError(ErrorKind::file_damaged,
                    source + ": the BREP data are damaged: " + why +
                        "; copy the file again, or write it again from the program that made it");
}

/// The kernel reads on past the end of a file and returns what it has. A whole file ends with the
/// reference to its root shape, which stands alone after the last list of sub-shapes (closed by
/// '*').
void check_end_of_text(std::string_view bytes, const std::string& source) {
    const size_t star = bytes.rfind('*');
    if (star == std::string_view::npos) refuse_brep(source, "they end before the shapes");
    std::string_view rest = bytes.substr(star + 1);
    const size_t start = rest.find_first_not_of(" \t\r\n");
    if (start == std::string_view::npos)
        refuse_brep(source, "the root shape is missing at the end");
    rest.remove_prefix(start);
    const bool oriented = std::string_view("+-io").find(rest.front()) != std::string_view::npos;
    const size_t number_end = rest.find_first_not_of("0123456789", 1);
    const bool numbered = number_end != 1 && number_end != std::string_view::npos;
    const bool placed =
        numbered && rest.find_first_of("0123456789", number_end) != std::string_view::npos;
    if (!oriented || !placed) refuse_brep(source, "they end in the middle of the shapes");
}

Model model_of(const TopoDS_Shape& shape, const std::string& source, const LoadOptions& options) {
    std::vector<std::string> notes;
    if (!options.unit.empty()) {
        notes.push_back("BREP carries no unit; lengths are read as " + options.unit);
    }
    return model_of_shape(shape, unitless_factor(options), "mm (assumed)", source,
                          std::move(notes));
}

}  // namespace

Model read_brep_text(std::string_view bytes, const std::string& source,
                     const LoadOptions& options) {
    check_end_of_text(bytes, source);
    const Silence silence;
    return guarded(source, ErrorKind::file_damaged, [&] {
        MemoryStream stream(bytes, true);
        TopoDS_Shape shape;
        BRepTools::Read(shape, stream, BRep_Builder());
        if (shape.IsNull()) refuse_brep(source, "the kernel finds no shape in them");
        return model_of(shape, source, options);
    });
}

Model read_brep_binary(std::string_view bytes, const std::string& source,
                       const LoadOptions& options) {
    const Silence silence;
    return guarded(source, ErrorKind::file_damaged, [&] {
        MemoryStream stream(bytes, true);
        TopoDS_Shape shape;
        BinTools::Read(shape, stream);
        if (shape.IsNull()) refuse_brep(source, "the kernel finds no shape in them");
        return model_of(shape, source, options);
    });
}

}  // namespace planform::model
