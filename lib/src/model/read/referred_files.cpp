#include "model/read/referred_files.hpp"

#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <system_error>
#include <unordered_set>

#include "model/read/content.hpp"
#include "planform/error.hpp"
#include "planform/model.hpp"

namespace planform {
namespace model {
namespace {

namespace fs = std::filesystem;

/// Reads the texts of a STEP file, one after the other: strings of the clear text encoding (ISO
/// 10303-21, 6.3.3, from memory), outside of comments, with their control directives as UTF-8. Line
/// ends within one say nothing.
class Texts {
  public:
    explicit Texts(std::string_view bytes) : bytes_(bytes) {}

    /// The next text; nothing at the end, or where the last one isn't closed.
    std::optional<std::string> next() {
        while (at_ < bytes_.size()) {
            if (bytes_.substr(at_).starts_with("/*")) {
                at_ = std::min(bytes_.find("*/", at_ + 2), bytes_.size() - 2) + 2;
            } else if (bytes_[at_++] == quote) {
                return read();
            }
        }
        return std::nullopt;
    }

  private:
    static constexpr char quote = '\'';

    std::optional<std::string> read() {
        std::string text;
        while (at_ < bytes_.size()) {
            const char c = bytes_[at_++];
            if (c == quote) {
                if (at_ >= bytes_.size() || bytes_[at_] != quote) return text;
                text += bytes_[at_++];
            } else if (c == '\\') {
                add_directive(text);
            } else if (c != '\n' && c != '\r') {
                text += c;
            }
        }
        return std::nullopt;
    }

    /// What follows a reversed solidus.
    void add_directive(std::string& text) {
        const std::string_view rest = bytes_.substr(at_);
        if (rest.starts_with("X2\\") || rest.starts_with("X4\\")) {
            const std::size_t digits = rest[1] == '2' ? 4 : 8;
            at_ += 3;
            while (const auto code = hexadecimal(digits)) add_utf8(*code, text);
            if (bytes_.substr(at_).starts_with("\\X0\\")) at_ += 4;
        } else if (rest.starts_with("X\\")) {
            at_ += 2;
            if (const auto code = hexadecimal(2)) add_utf8(*code, text);
        } else if (rest.starts_with("S\\") && rest.size() > 2) {
            add_utf8(static_cast<unsigned char>(rest[2]) + 128U, text);
            at_ += 3;
        } else if (rest.starts_with("\\")) {
            text += '\\';
            ++at_;
        } else {
            text += '\\';
        }
    }

    std::optional<std::uint32_t> hexadecimal(std::size_t digits) {
        const std::string_view part = bytes_.substr(at_, digits);
        std::uint32_t code = 0;
        const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), code, 16);
        if (part.size() < digits || error != std::errc() || end != part.data() + digits)
            return std::nullopt;
        at_ += digits;
        return code;
    }

    static void add_utf8(std::uint32_t code, std::string& text) {
        std::array<utf8proc_uint8_t, 4> bytes{};
        const utf8proc_ssize_t count =
            utf8proc_encode_char(static_cast<utf8proc_int32_t>(code), bytes.data());
        text.append(bytes.begin(), bytes.begin() + count);
    }

    std::string_view bytes_;
    std::size_t at_ = 0;
};

/// Names longer than this no file system takes.
constexpr std::size_t longest_name = 4096;

/// True if one of the entities stands in a file by which others are named (ISO 10303-41; the names
/// from memory). Nearly all files have none, and are not looked at further.
bool names_documents(std::string_view bytes) {
    for (const std::string_view entity : {"DOCUMENT_FILE", "EXTERNAL_IDENTIFICATION"})
        if (std::search(bytes.begin(), bytes.end(),
                        std::boyer_moore_horspool_searcher(entity.begin(), entity.end())) !=
            bytes.end())
            return true;
    return false;
}

/// Calls `take` once for each text in the bytes of `source` that may name a file, with its path
/// from the folder of `source`.
void visit_names(std::string_view bytes, const fs::path& source,
                 const std::function<void(const fs::path&)>& take) {
    if (sniff(bytes) != Content::step || !names_documents(bytes)) return;
    const fs::path folder = source.parent_path(), own = source.lexically_normal();
    std::unordered_set<std::string> seen;
    Texts texts(bytes);
    while (std::optional<std::string> name = texts.next()) {
        if (name->empty() || name->size() > longest_name || name->find('\0') != name->npos ||
            !seen.insert(*name).second)
            continue;
        const fs::path path = (folder / *name).lexically_normal();
        if (path != own) take(path);
    }
}

void add_once(const fs::path& path, std::vector<fs::path>& paths) {
    if (std::find(paths.begin(), paths.end(), path) == paths.end()) paths.push_back(path);
}

bool is_file(const fs::path& path) {
    std::error_code missing;
    return fs::is_regular_file(path, missing);
}

/// True if the name ends with the suffix, which is in lower case, whatever the case of its own.
bool ends_with(const std::string& name, const std::string& suffix) {
    return name.size() >= suffix.size() &&
           std::equal(suffix.rbegin(), suffix.rend(), name.rbegin(), [](char a, char b) {
               return a == b || (b >= 'A' && b <= 'Z' && a == b - 'A' + 'a');
           });
}

NamedFiles named_files(std::string_view bytes, const fs::path& source,
                       const std::vector<std::string>& suffixes) {
    NamedFiles found;
    visit_names(bytes, source, [&](const fs::path& path) {
        // Any text may be the name of a file: what it is follows from its content, not from its
        // end. Of what is not there the end is all that there is to go by.
        if (is_file(path))
            add_once(path, found.there);
        else if (std::any_of(suffixes.begin(), suffixes.end(), [&](const std::string& suffix) {
                     return ends_with(path.string(), suffix);
                 }))
            add_once(path, found.absent);
    });
    return found;
}

}  // namespace

std::vector<fs::path> referred_files(std::string_view bytes, const fs::path& source) {
    return named_files(bytes, source, {}).there;
}

void visit_referred_files(std::string_view bytes, const fs::path& source,
                          const std::function<void(const fs::path&, const std::string*)>& visit) {
    const fs::path own = source.lexically_normal();
    std::vector<fs::path> files = referred_files(bytes, own);
    for (std::size_t i = 0; i < files.size(); ++i) {
        const fs::path file = files[i];
        std::string content;
        try {
            content = read_bytes(file);
        } catch (const LoadError&) {
            visit(file, nullptr);  // reading the model says what is wrong with it
            continue;
        }
        visit(file, &content);
        try {
            for (const fs::path& other : files_named_in(content, file).there)
                if (other != own) add_once(other, files);
        } catch (const LoadError&) {
            continue;
        }
    }
}

}  // namespace model

NamedFiles files_named_in(std::string_view bytes, const std::filesystem::path& path,
                          const std::vector<std::string>& suffixes) {
    if (model::sniff(bytes) != model::Content::gzip)
        return model::named_files(bytes, path, suffixes);
    return model::named_files(model::unpacked_bytes(std::string(bytes), path.string()), path,
                              suffixes);
}

std::vector<std::filesystem::path> model_files(const std::filesystem::path& path) {
    std::vector<std::filesystem::path> files = {path};
    const std::string bytes = model::unpacked_bytes(model::read_bytes(path), path.string());
    model::visit_referred_files(
        bytes, path,
        [&](const std::filesystem::path& file, const std::string*) { files.push_back(file); });
    return files;
}

}  // namespace planform
