#pragma once

/// Cut files from profile sets: DXF, SVG and JSON. Every writer writes to a temporary name in the
/// target folder and renames: a file is whole or absent. The same profile set gives the same bytes.

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "planform/allowance.hpp"
#include "planform/profile.hpp"

namespace planform {

enum class DrawingUnit { millimetre, inch };

/// How ellipses and splines are written.
enum class CurveStyle {
    arcs,   ///< as tangent-continuous circular arcs within tolerance (many controllers take no
            ///< others)
    exact,  ///< as ELLIPSE and SPLINE
};

/// What a role of contours is drawn with: a layer of a DXF, a group of an SVG. What is not given is
/// the format's own.
struct DrawingLayer {
    std::string name;
    std::optional<int> color_index;    ///< as DXF counts colours: 1 to 255
    std::optional<std::uint32_t> rgb;  ///< 0xRRGGBB; with no index, the nearest one goes with it
    std::optional<double> line_width;  ///< mm; a DXF takes the nearest width that it knows
};

/// By role: "outer" (cut outside), "inner" (holes), "mark". Roles with one name share a layer.
using DrawingLayers = std::map<std::string, DrawingLayer>;

struct DxfOptions {
    CurveStyle curves = CurveStyle::arcs;
    DrawingUnit unit = DrawingUnit::millimetre;
    /// Bound in mm on the distance between arcs and the curve they stand for; 0: that of the
    /// profile set.
    double tolerance = 0.0;
    /// In place of our own; see dxf_text().
    DrawingLayers layers = {};
};

/// ASCII DXF, version AC1015, lengths in the drawing unit ($INSUNITS, $MEASUREMENT,
/// $EXTMIN/$EXTMAX). Layers: "CUT_OUTER", "CUT_INNER", "MARK". A circle is a CIRCLE; a contour of
/// lines and arcs is one closed LWPOLYLINE with bulges. Each entity carries the name of its profile
/// or mark as extended data of the application "PLANFORM". Throws GeometryError for layers that
/// make no sense. Source of the format: the published DXF
/// reference for AC1015.
std::string dxf_text(const ProfileSet& profiles, const DxfOptions& options = {});
void write_dxf(const ProfileSet& profiles, const std::filesystem::path& path,
               const DxfOptions& options = {});

struct SvgOptions {
    /// In mm. The default is a thousandth of an inch: machine drivers take such a hairline for a
    /// path to follow, not an area to fill (common practice, no source). A picture for the screen
    /// wants more.
    double stroke_width = 0.0254;
    /// In place of our own groups; see svg_text(). A layer's line width goes before `stroke_width`.
    DrawingLayers layers = {};
};

/// SVG 1.1: width and height are those of the outlines in mm, one user unit = 1 mm, y the right way
/// up, a group a role ("cut-outer", "cut-inner", "mark"), hairlines. Lines, arcs and polynomial
/// splines up to degree 3 are exact; other splines become arcs within the set's tolerance. Throws
/// GeometryError for a stroke width that is not positive and finite, or layers that make no sense.
std::string svg_text(const ProfileSet& profiles, const SvgOptions& options = {});
void write_svg(const ProfileSet& profiles, const std::filesystem::path& path,
               const SvgOptions& options = {});

/// JSON, schema documented in DEVELOPERS.md: lossless, numbers with the fewest digits that give
/// them back.
std::string json_text(const ProfileSet& profiles);
void write_json(const ProfileSet& profiles, const std::filesystem::path& path);
/// The same of a true outline with what is to be allowed for in cutting it: version 2 of the
/// schema.
std::string json_text(const ProfileSet& profiles, const Allowance& allowance);
void write_json(const ProfileSet& profiles, const Allowance& allowance,
                const std::filesystem::path& path);
/// Reads json_text back. Throws GeometryError (json_invalid) with the place in the document.
ProfileSet profile_set_from_json(std::string_view text, Validate validate = Validate::yes);
/// What it says about the allowance; nothing if it has none. Errors as profile_set_from_json.
std::optional<Allowance> allowance_from_json(std::string_view text);
/// The same of a file; errors as read_json.
std::optional<Allowance> read_json_allowance(const std::filesystem::path& path);
/// Reads a file of write_json. Throws LoadError if it is missing or can't be read, else as
/// profile_set_from_json, with the path.
ProfileSet read_json(const std::filesystem::path& path, Validate validate = Validate::yes);

/// Writes bytes to a temporary name beside `path`, then renames. Throws WriteError with path and
/// cause; leaves nothing behind on failure.
void write_whole_file(const std::filesystem::path& path, std::string_view bytes);

/// A file name (no folder, no suffix) made of a part's name (UTF-8): letters and digits of every
/// script, '-', '_' and '.' stay, all else becomes '_'; composed (Unicode NFC); at most 80
/// characters and 180 bytes; never empty, never starts with '.', no device name of any system.
std::string safe_file_stem(std::string_view name);

}  // namespace planform
