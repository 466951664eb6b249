/// Models on their way to another process: the packed model, where it came from, and the digests of
/// its shapes, so that what comes out equals what went in.

#define XXH_INLINE_ALL
#include <xxhash.h>

#include <array>
#include <cstring>
#include <map>

#include "model/body/shape_digest.hpp"
#include "model/read/packed.hpp"
#include "planform/cache.hpp"
#include "planform/error.hpp"

namespace planform {

namespace {

/// The first line; bytes of another build begin otherwise.
std::string first_line() {
    return "planform " PLANFORM_VERSION " model, " + model::packing_version() + "\n";
}

template <class Value>
void append(std::string& bytes, const Value& value) {
    bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
}

[[noreturn]] void refuse(const char* what) {
    throw LoadError(ErrorKind::file_damaged,
                    std::string("the bytes of a model ") + what + "; read the file itself");
}

template <class Value>
Value taken(std::string_view& rest) {
    Value value;
    if (rest.size() < sizeof value) refuse("are cut off");
    std::memcpy(&value, rest.data(), sizeof value);
    rest.remove_prefix(sizeof value);
    return value;
}

std::string taken_text(std::string_view& rest) {
    const auto size = taken<std::uint64_t>(rest);
    if (size > rest.size()) refuse("are cut off");
    std::string text(rest.substr(0, size));
    rest.remove_prefix(size);
    return text;
}

void append(std::string& bytes, const std::string& text) {
    append(bytes, std::uint64_t{text.size()});
    bytes += text;
}

std::array<std::uint64_t, 2> checksum(std::string_view bytes) {
    const XXH128_hash_t hash = XXH3_128bits(bytes.data(), bytes.size());
    return {hash.high64, hash.low64};
}

}  // namespace

std::string model_bytes(const Model& model) {
    std::map<int, model::ShapeDigest> digests;
    for (const Solid& solid : model.solids())
        if (!digests.contains(solid.shape_index()))
            digests.emplace(solid.shape_index(), model::shape_digest(solid));
    std::string body;
    append(body, model.source());
    append(body, std::uint64_t{digests.size()});
    for (const auto& [shape, digest] : digests) {
        append(body, shape);
        append(body, digest);
    }
    body += model::packed(model);
    std::string bytes = first_line();
    append(bytes, checksum(body));
    return bytes + body;
}

Model model_from_bytes(std::string_view bytes) {
    const std::string line = first_line();
    if (!bytes.starts_with(line)) refuse("are those of another build");
    std::string_view rest = bytes.substr(line.size());
    const auto sum = taken<std::array<std::uint64_t, 2>>(rest);
    if (sum != checksum(rest)) refuse("are damaged");
    const std::string source = taken_text(rest);
    std::map<int, model::ShapeDigest> digests;
    for (auto count = taken<std::uint64_t>(rest); count > 0; --count) {
        const auto shape = taken<int>(rest);
        digests[shape] = taken<model::ShapeDigest>(rest);
    }
    Model result = model::unpacked(rest, source);
    for (const Solid& solid : result.solids()) {
        const auto digest = digests.find(solid.shape_index());
        if (digest != digests.end()) model::adopt_shape_digest(solid, digest->second);
    }
    return result;
}

}  // namespace planform
