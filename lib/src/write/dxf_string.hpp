#pragma once

/// Names as text of a DXF file.

#include <string>
#include <string_view>

namespace planform::write {

/// The text on one line of ASCII, at most 255 bytes, as extended data can hold it: control
/// characters become spaces, other characters \U+XXXX, those beyond the basic plane U+FFFD. Source:
/// the published DXF reference for AC1015, "Extended Data" and the escapes of text.
std::string dxf_string(std::string_view text);

}  // namespace planform::write
