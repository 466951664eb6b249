#pragma once

/// What is in a file: bytes in, kind of content out.

#include <filesystem>
#include <string>
#include <string_view>

namespace planform::model {

enum class Content { step, brep_text, brep_binary, gzip, unknown };

/// Decides by the first bytes; a byte order mark and white space before them are skipped.
Content sniff(std::string_view bytes);

/// All bytes of a file. Throws LoadError: missing, unreadable (rights, a folder), empty.
std::string read_bytes(const std::filesystem::path& path);

/// Throws the LoadError of a file without bytes.
[[noreturn]] void throw_empty(const std::filesystem::path& path);

/// Unpacks gzip data (RFC 1952), several members too. Throws LoadError if they are truncated or
/// damaged, or would unpack to more than `limit` bytes. `source` names the file in messages.
std::string unpack_gzip(std::string_view bytes, const std::string& source, size_t limit);

/// The bytes themselves, or what they hold if they are gzip data. Throws as unpack_gzip.
std::string unpacked_bytes(std::string bytes, const std::string& source);

}  // namespace planform::model
