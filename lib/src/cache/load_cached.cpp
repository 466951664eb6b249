#define XXH_INLINE_ALL
#include <xxhash.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <optional>

#include "cache/folder.hpp"
#include "model/kernel/units.hpp"
#include "model/read/content.hpp"
#include "model/read/formats.hpp"
#include "model/read/packed.hpp"
#include "model/read/referred_files.hpp"
#include "planform/cache.hpp"
#include "planform/error.hpp"
#include "planform/write.hpp"

namespace planform {

namespace {

/// 128 bits, hexadecimal. Format: XXH3, by its reference implementation.
std::string digest_of(std::string_view bytes) {
    const XXH128_hash_t hash = XXH3_128bits(bytes.data(), bytes.size());
    std::array<char, 33> text{};
    std::snprintf(text.data(), text.size(), "%016llx%016llx",
                  static_cast<unsigned long long>(hash.high64),
                  static_cast<unsigned long long>(hash.low64));
    return text.data();
}

/// Of the files that the bytes of a model name, and that those name in turn; what can't be read
/// counts as not there, as when the model is read.
std::string digests_of_referred(std::string_view bytes, const std::filesystem::path& source) {
    std::string all;
    model::visit_referred_files(
        bytes, source, [&](const std::filesystem::path&, const std::string* content) {
            all += ", with " + (content ? digest_of(*content) : std::string("unreadable"));
        });
    return all;
}

/// All that decides what is read, as one line; the options' numbers bit for bit.
std::string key_of(std::string_view file, const LoadOptions& options) {
    std::array<char, 64> scale{};
    std::snprintf(scale.data(), scale.size(), "%a", options.scale);
    return "planform " PLANFORM_VERSION ", " + model::packing_version() + ", file " +
           digest_of(file) + " of " + std::to_string(file.size()) + " bytes, unit '" +
           options.unit + "', scale " + scale.data() +
           (options.heal == Heal::always ? ", healed in full" : "");
}

/// An entry is a line with its key, a line with the digest of the rest, and the packed model.
std::string entry_of(const std::string& key, const std::string& packed) {
    return key + "\n" + digest_of(packed) + "\n" + packed;
}

/// The packed model of an entry; nothing if it is another's, cut off or damaged.
std::optional<std::string_view> packed_of(std::string_view entry, const std::string& key) {
    if (!entry.starts_with(key + "\n")) return std::nullopt;
    entry.remove_prefix(key.size() + 1);
    const size_t end = entry.find('\n');
    if (end == std::string_view::npos) return std::nullopt;
    const std::string_view packed = entry.substr(end + 1);
    if (entry.substr(0, end) != digest_of(packed)) return std::nullopt;
    return packed;
}

std::optional<Model> known(const std::filesystem::path& path, const std::string& key,
                           const std::string& source) {
    const std::optional<std::string> entry = cache::used_entry(path);
    if (!entry) return std::nullopt;
    const std::optional<std::string_view> packed = packed_of(*entry, key);
    if (!packed) return std::nullopt;
    try {
        return model::unpacked(*packed, source);
    } catch (const Error&) {
        return std::nullopt;
    }
}

}  // namespace

Model load_cached(const std::filesystem::path& path, const CacheOptions& cache,
                  const LoadOptions& options) {
    model::check(options);
    return load_cached_bytes(model::read_bytes(path), path, cache, options);
}

Model load_cached_bytes(std::string bytes, const std::filesystem::path& path,
                        const CacheOptions& cache, const LoadOptions& options) {
    model::check(options);
    const std::string source = path.string();
    if (bytes.empty()) model::throw_empty(path);
    bytes = model::unpacked_bytes(std::move(bytes), source);
    const std::string key = key_of(bytes, options) + digests_of_referred(bytes, path);
    const std::filesystem::path place =
        cache.folder.empty() ? cache.folder : cache.folder / cache::entry_name(digest_of(key));
    if (!place.empty()) {
        if (std::optional<Model> model = known(place, key, source)) return *std::move(model);
    }
    const std::string packed = model::packed(model::read_model(std::move(bytes), source, options));
    if (!place.empty()) cache::keep(place, entry_of(key, packed), cache.limit);
    // Not the model as it was read: whether the cache held it must not show in the last digit.
    return model::unpacked(packed, source);
}

std::filesystem::path default_cache_folder() {
    const auto variable = [](const char* name) {
        const char* value = std::getenv(name);
        return std::filesystem::path(value ? value : "");
    };
    // The specification wants relative paths in the variable ignored.
    const std::filesystem::path caches = variable("XDG_CACHE_HOME");
    if (caches.is_absolute()) return caches / "planform";
    const std::filesystem::path home = variable("HOME");
    return home.empty() ? home : home / ".cache" / "planform";
}

}  // namespace planform
