#include "model/kernel/units.hpp"
#include "model/read/content.hpp"
#include "model/read/formats.hpp"
#include "planform/error.hpp"
#include "planform/memory.hpp"

namespace planform {

namespace {

/// Far above any model that fits a desk machine, far below what a small malicious file can unpack
/// to.
constexpr size_t largest_unpacked = size_t{2} << 30;

[[noreturn]] void throw_not_recognised(const std::string& source) {
    throw LoadError(ErrorKind::file_not_recognised,
                    source +
                        ": the content is neither STEP (ISO 10303-21) nor BREP, whatever the name "
                        "says; export the model as STEP");
}

Model read(std::string_view bytes, const std::string& source, const LoadOptions& options) {
    switch (model::sniff(bytes)) {
        case model::Content::step:
            return model::read_step(bytes, source, options);
        case model::Content::brep_text:
            return model::read_brep_text(bytes, source, options);
        case model::Content::brep_binary:
            return model::read_brep_binary(bytes, source, options);
        default:
            throw_not_recognised(source);
    }
}

}  // namespace

std::string model::unpacked_bytes(std::string bytes, const std::string& source) {
    if (sniff(bytes) == Content::gzip) return unpack_gzip(bytes, source, largest_unpacked);
    return bytes;
}

Model model::read_model(std::string bytes, const std::string& source, const LoadOptions& options) {
    return read(unpacked_bytes(std::move(bytes), source), source, options);
}

Model load(const std::filesystem::path& path, const LoadOptions& options) {
    model::check(options);
    return model::read_model(model::read_bytes(path), path.string(), options);
}

Model load_bytes(std::string bytes, const LoadOptions& options) {
    model::check(options);
    if (bytes.empty())
        throw LoadError(ErrorKind::file_empty, "memory: there are no bytes; hand over a file's");
    return model::read_model(std::move(bytes), "memory", options);
}

Model from_brep(std::string_view data, const LoadOptions& options) {
    model::check(options);
    if (data.empty()) {
        throw LoadError(ErrorKind::file_empty, "memory: there are no bytes; hand over BREP data");
    }
    switch (model::sniff(data)) {
        case model::Content::brep_text:
            return model::read_brep_text(data, "memory", options);
        case model::Content::brep_binary:
            return model::read_brep_binary(data, "memory", options);
        default:
            throw LoadError(
                ErrorKind::file_not_recognised,
                "memory: the bytes are no BREP data, text or binary; write the shape as "
                "BREP, or use load() for other files");
    }
}

}  // namespace planform
