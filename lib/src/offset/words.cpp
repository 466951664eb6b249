#include "offset/words.hpp"

#include <cstdio>

namespace planform::offset_detail {
namespace {

std::string number(double value, int decimals) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    std::string digits = text;
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits == "-0" ? "0" : digits;
}

}  // namespace

std::string millimetres(double value) { return number(value, 4) + " mm"; }

std::string square_millimetres(double value) { return number(value, 4) + " mm^2"; }

std::string at_place(const Point2& place) {
    std::string text = "(";
    text += number(place.x(), 3);
    text += ", ";
    text += number(place.y(), 3);
    return text + ")";
}

}  // namespace planform::offset_detail
