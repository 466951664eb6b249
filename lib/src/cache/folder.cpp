#include "cache/folder.hpp"

#include <algorithm>
#include <chrono>
#include <system_error>
#include <tuple>
#include <vector>

#include "model/read/content.hpp"
#include "planform/error.hpp"
#include "planform/write.hpp"

namespace planform::cache {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view suffix = ".model";
/// How temporary names of write_whole_file begin and end.
constexpr std::string_view temporary_prefix = ".planform-";
constexpr std::string_view temporary_suffix = ".tmp";
/// A file that is still under such a name after so long is that of a process that was killed.
constexpr std::chrono::hours longest_write{1};

struct Entry {
    fs::path path;
    std::uint64_t size;
    fs::file_time_type used;
};

/// The entries of a folder; what killed writers have left is removed on the way. Other files are
/// none of ours. Throws filesystem_error.
std::vector<Entry> entries_of(const fs::path& folder) {
    std::vector<Entry> entries;
    for (const fs::directory_entry& file : fs::directory_iterator(folder)) {
        std::error_code gone;  // another process may have removed it meanwhile
        if (!fs::is_regular_file(file.symlink_status(gone))) continue;
        const std::string name = file.path().filename().string();
        const fs::file_time_type used = file.last_write_time(gone);
        const std::uint64_t size = gone ? 0 : file.file_size(gone);
        if (gone) continue;
        if (name.ends_with(suffix)) {
            entries.push_back({file.path(), size, used});
        } else if (name.starts_with(temporary_prefix) && name.ends_with(temporary_suffix) &&
                   fs::file_time_type::clock::now() - used > longest_write) {
            fs::remove(file.path(), gone);
        }
    }
    return entries;
}

void keep_below(const fs::path& folder, std::uint64_t limit) {
    std::vector<Entry> entries = entries_of(folder);
    std::sort(entries.begin(), entries.end(), [](const Entry& first, const Entry& second) {
        return std::tie(first.used, first.path) < std::tie(second.used, second.path);
    });
    std::uint64_t total = 0;
    for (const Entry& entry : entries) total += entry.size;
    for (const Entry& entry : entries) {
        if (total <= limit) break;
        std::error_code gone;
        fs::remove(entry.path, gone);
        total -= entry.size;
    }
}

}  // namespace

std::string entry_name(const std::string& digest) { return digest + std::string(suffix); }

std::optional<std::string> used_entry(const fs::path& path) {
    std::error_code error;
    if (!fs::is_regular_file(path, error)) return std::nullopt;
    try {
        std::string bytes = model::read_bytes(path);
        fs::last_write_time(path, fs::file_time_type::clock::now(), error);
        return bytes;
    } catch (const Error&) {
        return std::nullopt;
    }
}

void keep(const fs::path& path, std::string_view bytes, std::uint64_t limit) {
    if (bytes.size() > limit) return;
    try {
        fs::create_directories(path.parent_path());
        write_whole_file(path, bytes);
        keep_below(path.parent_path(), limit);
    } catch (const fs::filesystem_error&) {
        return;
    } catch (const WriteError&) {
        return;
    }
}

}  // namespace planform::cache
