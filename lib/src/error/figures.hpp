#pragma once

/// Figures in sentences.

#include <cstdio>
#include <string>

#include "planform/geometry.hpp"

namespace planform::words {

/// At most `digits` decimals, without trailing zeros: "2.5", "120".
inline std::string figure(double value, int digits = 2) {
    char buffer[64];
    std::snprintf(buffer, sizeof buffer, "%.*f", digits, value);
    std::string text = buffer;
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

inline std::string millimetres(double value) { return figure(value, 3) + " mm"; }
inline std::string percent(double share) { return figure(100.0 * share, 1) + " %"; }
inline std::string degrees(double angle) { return figure(angle * 180.0 / pi, 2) + " degrees"; }

/// "1 edge is", "3 edges are".
inline std::string counted(std::size_t count, const char* one, const char* several) {
    std::string text = std::to_string(count);
    text.append(" ").append(count == 1 ? one : several);
    return text;
}

}  // namespace planform::words
