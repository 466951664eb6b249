#include "model/read/referred_files.hpp"

#include <algorithm>
#include <cstddef>
#include <cstring>
#include <string>
#include <system_error>

#include "model/read/content.hpp"
#include "planform/error.hpp"
#include "planform/model.hpp"

namespace planform {
namespace model {
namespace {

namespace fs = std::filesystem;

constexpr char quote = '\'';

bool ends_like_step(std::string_view name) {
    for (const std::string_view end : {".stp", ".step"}) {
        if (name.size() < end.size()) continue;
        const std::string_view tail = name.substr(name.size() - end.size());
        if (std::equal(end.begin(), end.end(), tail.begin(),
                       [](char a, char b) { return a == (b | ('A' <= b && b <= 'Z' ? 32 : 0)); }))
            return true;
    }
    return false;
}

/// Texts of a STEP file that end like the names of such files (ISO 10303-21: texts stand between
/// apostrophes).
std::vector<std::string_view> names_in(std::string_view bytes) {
    std::vector<std::string_view> names;
    for (std::size_t dot = bytes.find('.'); dot != bytes.npos; dot = bytes.find('.', dot + 1)) {
        if (dot + 1 >= bytes.size() || (bytes[dot + 1] != 's' && bytes[dot + 1] != 'S')) continue;
        const std::size_t end = bytes.find(quote, dot);
        if (end == bytes.npos) break;
        if (end - dot > 5) continue;
        const std::size_t start = bytes.rfind(quote, dot);
        if (start == bytes.npos) continue;
        const std::string_view name = bytes.substr(start + 1, end - start - 1);
        if (ends_like_step(name)) names.push_back(name);
    }
    return names;
}

/// True if one of the entities stands in a file by which others are named (ISO 10303-41; the names
/// from memory). Nearly all files have none, and are not looked at further.
bool names_documents(std::string_view bytes) {
    for (const std::string_view entity : {"DOCUMENT_FILE", "EXTERNAL_IDENTIFICATION"})
        if (::memmem(bytes.data(), bytes.size(), entity.data(), entity.size()) != nullptr)
            return true;
    return false;
}

}  // namespace

std::vector<fs::path> referred_files(std::string_view bytes, const fs::path& source) {
    std::vector<fs::path> found;
    if (sniff(bytes) != Content::step || !names_documents(bytes)) return found;
    const fs::path folder = source.parent_path(), own = source.lexically_normal();
    for (const std::string_view name : names_in(bytes)) {
        const fs::path path = (folder / name).lexically_normal();
        std::error_code missing;
        if (path == own || std::find(found.begin(), found.end(), path) != found.end() ||
            !fs::is_regular_file(path, missing))
            continue;
        found.push_back(path);
    }
    return found;
}

}  // namespace model

std::vector<std::filesystem::path> model_files(const std::filesystem::path& path) {
    std::vector<std::filesystem::path> files = {path.lexically_normal()};
    for (std::size_t i = 0; i < files.size(); ++i) {
        std::string bytes;
        try {
            bytes = model::unpacked_bytes(model::read_bytes(files[i]), files[i].string());
        } catch (const LoadError&) {
            if (i == 0) throw;
            continue;  // reading the model says what is wrong with it
        }
        for (const std::filesystem::path& file : model::referred_files(bytes, files[i]))
            if (std::find(files.begin(), files.end(), file) == files.end()) files.push_back(file);
    }
    files.front() = path;
    return files;
}

}  // namespace planform
