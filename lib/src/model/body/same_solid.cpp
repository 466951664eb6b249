/// Are two solids the same? Their shapes are compared by digests of what the kernel writes of them.

#define XXH_INLINE_ALL
#include <xxhash.h>

#include <BinTools.hxx>
#include <sstream>
#include <tuple>

#include "model/body/solid_data.hpp"
#include "model/kernel/kernel.hpp"
#include "planform/error.hpp"

namespace planform {

namespace model {

namespace {

/// Without triangulations: flattening may add some, and they are no part of the shape.
ShapeDigest digest_of(const TopoDS_Shape& shape) {
    const Silence silence;
    return guarded("the shape of a solid", ErrorKind::kernel_failure, [&] {
        std::ostringstream stream;
        stream.imbue(std::locale::classic());
        BinTools::Write(shape, stream, false, false, BinTools_FormatVersion_CURRENT);
        const std::string bytes = std::move(stream).str();
        const XXH128_hash_t hash = XXH3_128bits(bytes.data(), bytes.size());
        return ShapeDigest{hash.high64, hash.low64};
    });
}

}  // namespace

const ShapeDigest& Mass::digest(const TopoDS_Shape& shape) const {
    std::call_once(digest_once_, [&] { digest_ = digest_of(shape); });
    return digest_;
}

void Mass::adopt_digest(const ShapeDigest& digest) const {
    std::call_once(digest_once_, [&] { digest_ = digest; });
}

ShapeDigest shape_digest(const Solid& solid) {
    return solid.data().mass->digest(solid.data().shape.Located({}));
}

void adopt_shape_digest(const Solid& solid, const ShapeDigest& digest) {
    solid.data().mass->adopt_digest(digest);
}

}  // namespace model

bool operator==(const Solid& a, const Solid& b) {
    const model::SolidData &first = a.data(), &second = b.data();
    // Two bodies of one model are two, even where a file has one twice in the same place.
    if (first.mass == second.mass) return &first == &second;
    const auto labels = [](const model::SolidData& solid) {
        return std::tie(solid.name, solid.path, solid.color, solid.layers, solid.shape_index,
                        solid.part, solid.part_name, solid.notes);
    };
    return labels(first) == labels(second) &&
           first.placement.matrix() == second.placement.matrix() &&
           model::shape_digest(a) == model::shape_digest(b);
}

}  // namespace planform
