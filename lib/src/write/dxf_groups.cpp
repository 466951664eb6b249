#include "write/dxf_groups.hpp"

#include <array>
#include <charconv>

#include "write/number.hpp"

namespace planform::write {

void DxfGroups::start(int code) {
    const std::string number = std::to_string(code);
    // Codes stand right-aligned in three columns, as the reference prints them.
    if (number.size() < 3) text_.append(3 - number.size(), ' ');
    text_ += number;
    text_ += '\n';
}

void DxfGroups::add(int code, std::string_view text) {
    start(code);
    text_ += text;
    text_ += '\n';
}

void DxfGroups::add(int code, int number) { add(code, std::string_view(std::to_string(number))); }

void DxfGroups::add(int code, std::size_t number) {
    add(code, std::string_view(std::to_string(number)));
}

void DxfGroups::add(int code, double number) {
    start(code);
    append_plain(text_, number);
    text_ += '\n';
}

void DxfGroups::add(int code, Handle handle) {
    std::array<char, 16> digits;
    const auto end =
        std::to_chars(digits.data(), digits.data() + digits.size(), handle.number, 16).ptr;
    for (char* digit = digits.data(); digit != end; ++digit) {
        if (*digit >= 'a') *digit = static_cast<char>(*digit - 'a' + 'A');
    }
    add(code, std::string_view(digits.data(), static_cast<std::size_t>(end - digits.data())));
}

void DxfGroups::add_point(int code, const Point2& point) {
    add_flat_point(code, point);
    add(code + 20, 0.0);
}

void DxfGroups::add_flat_point(int code, const Point2& point) {
    add(code, point.x());
    add(code + 10, point.y());
}

}  // namespace planform::write
