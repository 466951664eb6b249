#include "model/read/content.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <system_error>

#include "planform/error.hpp"

namespace planform::model {

namespace {

/// Text before the first letter of a format: byte order mark (UTF-8) and white space.
std::string_view without_leading_blank(std::string_view bytes) {
    if (bytes.substr(0, 3) == "\xEF\xBB\xBF") bytes.remove_prefix(3);
    const size_t start = bytes.find_first_not_of(" \t\r\n\f\v");
    return start == std::string_view::npos ? std::string_view{} : bytes.substr(start);
}

[[noreturn]] void throw_unreadable(const std::filesystem::path& path, const std::string& why,
                                   const std::string& advice) {
    throw LoadError(ErrorKind::file_unreadable,
                    path.string() + ": the file can't be read: " + why + "; " + advice,
                    path.string());
}

/// Throws LoadError if the system refuses a read, as for a disk that fails.
std::string read_all(std::FILE* file, const std::filesystem::path& path) {
    std::string bytes;
    std::string block(1 << 20, '\0');
    for (;;) {
        const size_t count = std::fread(block.data(), 1, block.size(), file);
        bytes.append(block, 0, count);
        if (count == block.size()) continue;
        if (std::ferror(file)) {
            throw_unreadable(path, std::strerror(errno), "check the disk");
        }
        return bytes;
    }
}

}  // namespace

Content sniff(std::string_view bytes) {
    if (bytes.substr(0, 2) == "\x1f\x8b") return Content::gzip;
    const std::string_view text = without_leading_blank(bytes);
    if (text.starts_with("ISO-10303-21")) return Content::step;
    if (text.starts_with("DBRep_DrawableShape") || text.starts_with("CASCADE Topology V")) {
        return Content::brep_text;
    }
    if (text.starts_with("Open CASCADE Topology V")) return Content::brep_binary;
    return Content::unknown;
}

std::string read_bytes(const std::filesystem::path& path) {
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::status(path, error);
    if (status.type() == std::filesystem::file_type::not_found) {
        throw LoadError(ErrorKind::file_missing,
                        path.string() + ": there is no such file; check the path", path.string());
    }
    if (status.type() == std::filesystem::file_type::none) {
        throw_unreadable(path, error.message(), "check the path and the rights of its folders");
    }
    if (status.type() == std::filesystem::file_type::directory) {
        throw_unreadable(path, "it is a folder", "name a file in it");
    }
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"),
                                                               &std::fclose);
    if (!file) throw_unreadable(path, std::strerror(errno), "check its rights");
    std::string bytes = read_all(file.get(), path);
    if (bytes.empty()) throw_empty(path);
    return bytes;
}

void throw_empty(const std::filesystem::path& path) {
    throw LoadError(ErrorKind::file_empty,
                    path.string() + ": the file is empty; export the model again");
}

}  // namespace planform::model
