#pragma once

/// Words of the JSON schema that its writer and its reader share.

#include <array>
#include <string_view>
#include <utility>

#include "planform/profile.hpp"

namespace planform::write {

/// The key that tells a profile set from other JSON; its value is the version of the schema.
inline constexpr std::string_view version_key = "planform";
inline constexpr int schema_version = 1;
/// That of a set with an allowance, which readers of version 1 refuse.
inline constexpr int allowance_version = 2;
/// That of a set with open marks or depths of marks, with an allowance or without.
inline constexpr int marks_version = 3;
/// That of a set with metadata of its caller's own, with all that else.
inline constexpr int data_version = 4;
inline constexpr std::string_view schema_unit = "mm";

inline constexpr std::array<std::pair<std::string_view, Provenance::Kind>, 4> provenance_words{
    {{"unknown", Provenance::Kind::unknown},
     {"edge", Provenance::Kind::edge},
     {"fold", Provenance::Kind::fold},
     {"section", Provenance::Kind::section}}};

inline std::string_view word_of(Provenance::Kind kind) {
    for (const auto& [word, value] : provenance_words) {
        if (value == kind) return word;
    }
    return provenance_words.front().first;
}

}  // namespace planform::write
