#pragma once

/// Groups (code and value), the words that a DXF file is made of.

#include <cstdint>
#include <string>
#include <string_view>

#include "planform/geometry.hpp"

namespace planform::write {

/// A number by which objects of a DXF file name each other; written in hexadecimal.
struct Handle {
    std::uint64_t number = 0;
};

/// Collects groups as text, each a line for the code and one for the value.
class DxfGroups {
  public:
    void add(int code, std::string_view text);
    void add(int code, int number);
    void add(int code, std::size_t number);
    void add(int code, double number);
    void add(int code, Handle handle);
    /// x and y with z = 0: codes `code`, `code` + 10, `code` + 20.
    void add_point(int code, const Point2& point);
    /// x and y alone: codes `code` and `code` + 10.
    void add_flat_point(int code, const Point2& point);
    void append(const DxfGroups& other) { text_ += other.text_; }

    const std::string& text() const { return text_; }

  private:
    void start(int code);
    std::string text_;
};

}  // namespace planform::write
