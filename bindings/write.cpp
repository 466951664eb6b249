#include <cmath>

#include "binding.hpp"

namespace planform::python {

namespace {

DxfOptions dxf_options(CurveStyle curves, DrawingUnit unit, const std::optional<double>& tolerance,
                       const std::optional<DrawingLayers>& layers) {
    // 0 in C++ means that none is given.
    return {curves, unit, tolerance ? (*tolerance == 0.0 ? -1.0 : *tolerance) : 0.0,
            layers.value_or(DrawingLayers{})};
}

using Color = py::typing::Optional<py::typing::Union<py::int_, py::str>>;

/// A colour by index, or as "#rrggbb".
void set_color(DrawingLayer& layer, const Color& color) {
    if (color.is_none()) return;
    if (py::isinstance<py::int_>(color) && !py::isinstance<py::bool_>(color)) {
        int overflow = 0;
        const long index = PyLong_AsLongAndOverflow(color.ptr(), &overflow);
        if (overflow != 0 || index < 1 || index > 255)
            throw GeometryError(ErrorKind::invalid_argument, "a colour index is from 1 to 255");
        layer.color_index = static_cast<int>(index);
        return;
    }
    const std::string text = py::isinstance<py::str>(color) ? py::cast<std::string>(color) : "";
    if (text.size() != 7 || text[0] != '#' ||
        text.find_first_not_of("0123456789abcdefABCDEF", 1) != std::string::npos)
        throw GeometryError(ErrorKind::invalid_argument,
                            "a colour is an index from 1 to 255 or a text like '#ff0000'");
    layer.rgb = static_cast<std::uint32_t>(std::stoul(text.substr(1), nullptr, 16));
}

py::object color_of(const DrawingLayer& layer) {
    if (layer.color_index) return py::int_(*layer.color_index);
    if (!layer.rgb) return py::none();
    const std::string digits = py::cast<std::string>(py::str("{:06x}").format(*layer.rgb));
    return py::str("#" + digits);
}

void bind_layer(py::module_& module) {
    py::class_<DrawingLayer>(module, "DrawingLayer",
                             R"(What a role is drawn with: a layer of a DXF, a group of an SVG.

Parameters
----------
name : str, optional
    Empty: the format's own.
color : int or str, optional
    An index from 1 to 255, as DXF counts colours, or ``"#rrggbb"``; a DXF holds the nearest index, too.
line_width : float, optional
    In mm; a DXF takes the nearest width that it knows.

Raises
------
GeometryError
    For a colour that is neither, or a width that is not positive and finite; names are looked at when a
    drawing is written.

Examples
--------
>>> import planform
>>> planform.DrawingLayer("LASER", color="#ff0000", line_width=0.1)
DrawingLayer('LASER', color='#ff0000', line_width=0.1)
)")
        .def(py::init([](const std::string& name, const Color& color,
                         const std::optional<double>& line_width) {
                 if (line_width && !(std::isfinite(*line_width) && *line_width > 0.0))
                     throw GeometryError(ErrorKind::invalid_argument,
                                         "a line width is a positive finite number of millimetres");
                 DrawingLayer layer{name, {}, {}, line_width};
                 set_color(layer, color);
                 return layer;
             }),
             py::arg("name") = "", py::kw_only(), py::arg("color") = py::none(),
             py::arg("line_width") = py::none())
        .def_readonly("name", &DrawingLayer::name, "Empty: the format's own.")
        .def_property_readonly(
            "color", [](const DrawingLayer& layer) -> Color { return Color(color_of(layer)); },
            "The index, or ``\"#rrggbb\"``; None: the format's own.")
        .def_readonly("line_width", &DrawingLayer::line_width, "In mm, None: the format's own.")
        .def("__repr__", [](const DrawingLayer& layer) {
            return py::str("DrawingLayer({!r}, color={!r}, line_width={!r})")
                .format(layer.name, color_of(layer), layer.line_width);
        });
}

constexpr const char* dxf_doc = R"(DXF (ASCII, AC1015): the text, or a file if a path is given.

Layers CUT_OUTER, CUT_INNER and MARK. A circle is a CIRCLE, a contour of lines and arcs one closed
LWPOLYLINE with bulges. Each entity carries the name of its profile or mark as extended data of the
application PLANFORM. The file is written to a temporary name and renamed: whole or absent.

Parameters
----------
path : path-like, optional
curves : {'arcs', 'exact'}, optional
    Ellipses and splines as tangent-continuous arcs (many controllers take no others), or as ELLIPSE
    and SPLINE.
unit : {'mm', 'inch'}, optional
    Unit of the drawing; lengths are converted.
tolerance : float, optional
    Bound in mm on the distance between arcs and the curve they stand for; without it that of the set.
layers : mapping of str to DrawingLayer, optional
    By role, ``"outer"``, ``"inner"`` or ``"mark"``: another layer than our own. Roles with one name share it.

Returns
-------
str or pathlib.Path
    The text, lengths in the drawing's unit, or the path written.

Raises
------
WriteError
    If the file can't be written.
GeometryError
    For an unknown word, a tolerance that is not positive and finite, or layers that make no sense.

Examples
--------
>>> import planform
>>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
>>> text = planform.ProfileSet([planform.Profile(disc)]).to_dxf()
>>> text.count("CIRCLE")
1
)";

constexpr const char* svg_doc = R"(SVG 1.1: the text, or a file if a path is given.

Width and height in mm, one user unit is 1 mm, y up as in the datum, hairline strokes, groups
``cut-outer``, ``cut-inner`` and ``mark``. The file is written to a temporary name and renamed.

Lines, arcs and polynomial splines up to degree 3 are exact; other splines become arcs within the set's
tolerance.

Parameters
----------
path : path-like, optional
stroke_width : float, optional
    In mm. The default is a thousandth of an inch, which machine drivers take for a path to follow
    (common practice, no source); a picture for the screen wants more.
layers : mapping of str to DrawingLayer, optional
    By role, ``"outer"``, ``"inner"`` or ``"mark"``: another group than our own. Roles with one name share it.

Returns
-------
str or pathlib.Path
    The text (lengths in mm), or the path written.

Raises
------
WriteError
    If the file can't be written.
GeometryError
    If `stroke_width` is not positive and finite, or layers make no sense.

Examples
--------
>>> import planform
>>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
>>> '<circle cx="0.0" cy="0.0" r="10.0"/>' in planform.ProfileSet([planform.Profile(disc)]).to_svg()
True
)";

constexpr const char* json_doc = R"(JSON, lossless: the text, or a file if a path is given.

`from_json` reads it back to the same numbers. The file is written to a temporary name and renamed.

Parameters
----------
path : path-like, optional
allowance : Allowance, optional
    What is to be allowed for in cutting this outline, kept beside it; `Allowance.from_json` reads it back.

Returns
-------
str or pathlib.Path
    The text (lengths in mm, angles in radians), or the path written.

Raises
------
WriteError
    If the file can't be written.
)";

constexpr const char* from_json_doc = R"(Read what `to_json` has written, lengths in mm.

Parameters
----------
text_or_path : str or path-like
    A str whose first character (blanks aside) is ``{`` or ``[`` is the document itself, all else is a
    path.
validate : bool, optional
    Whether the contours are proven to be sound, as by `Contour` and `Profile`; not needed for a document
    that nobody but `to_json` has written.

Returns
-------
ProfileSet

Raises
------
GeometryError
    With the place in the document, if it does not follow the schema.
LoadError
    If the file is missing or can't be read.

Examples
--------
>>> import planform
>>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
>>> profiles = planform.ProfileSet([planform.Profile(disc)])
>>> planform.ProfileSet.from_json(profiles.to_json()) == profiles
True
)";

constexpr const char* file_doc = "Write the file and return its path.";

void add_dxf(py::class_<ProfileSet>& type) {
    type.def(
            "to_dxf",
            [](const ProfileSet& set, const py::none&, CurveStyle curves, DrawingUnit unit,
               const std::optional<double>& tolerance, const std::optional<DrawingLayers>& layers) {
                const py::gil_scoped_release released;
                return dxf_text(set, dxf_options(curves, unit, tolerance, layers));
            },
            py::arg("path") = py::none(), py::kw_only(), py::arg("curves") = CurveStyle::arcs,
            py::arg("unit") = DrawingUnit::millimetre, py::arg("tolerance") = py::none(),
            py::arg("layers") = py::none(), dxf_doc)
        .def(
            "to_dxf",
            [](const ProfileSet& set, const std::filesystem::path& path, CurveStyle curves,
               DrawingUnit unit, const std::optional<double>& tolerance,
               const std::optional<DrawingLayers>& layers) {
                write_dxf(set, path, dxf_options(curves, unit, tolerance, layers));
                return path;
            },
            py::arg("path"), py::kw_only(), py::arg("curves") = CurveStyle::arcs,
            py::arg("unit") = DrawingUnit::millimetre, py::arg("tolerance") = py::none(),
            py::arg("layers") = py::none(), without_gil(), file_doc);
}

void add_svg(py::class_<ProfileSet>& type) {
    const double hairline = SvgOptions().stroke_width;
    type.def(
            "to_svg",
            [](const ProfileSet& set, const py::none&, double stroke_width,
               const std::optional<DrawingLayers>& layers) {
                const py::gil_scoped_release released;
                return svg_text(set, {stroke_width, layers.value_or(DrawingLayers{})});
            },
            py::arg("path") = py::none(), py::kw_only(), py::arg("stroke_width") = hairline,
            py::arg("layers") = py::none(), svg_doc)
        .def(
            "to_svg",
            [](const ProfileSet& set, const std::filesystem::path& path, double stroke_width,
               const std::optional<DrawingLayers>& layers) {
                write_svg(set, path, {stroke_width, layers.value_or(DrawingLayers{})});
                return path;
            },
            py::arg("path"), py::kw_only(), py::arg("stroke_width") = hairline,
            py::arg("layers") = py::none(), without_gil(), file_doc);
}

void add_json(py::class_<ProfileSet>& type) {
    type.def(
            "to_json",
            [](const ProfileSet& set, const py::none&, const std::optional<Allowance>& allowance) {
                const py::gil_scoped_release released;
                return allowance ? json_text(set, *allowance) : json_text(set);
            },
            py::arg("path") = py::none(), py::kw_only(), py::arg("allowance") = py::none(),
            json_doc)
        .def(
            "to_json",
            [](const ProfileSet& set, const std::filesystem::path& path,
               const std::optional<Allowance>& allowance) {
                if (allowance)
                    write_json(set, *allowance, path);
                else
                    write_json(set, path);
                return path;
            },
            py::arg("path"), py::kw_only(), py::arg("allowance") = py::none(), without_gil(),
            file_doc)
        .def_static(
            "from_json",
            [](const std::string& text, bool validate) {
                const std::size_t first = text.find_first_not_of(" \t\r\n");
                const bool document =
                    first != std::string::npos && (text[first] == '{' || text[first] == '[');
                return document ? profile_set_from_json(text, validation(validate))
                                : read_json(text, validation(validate));
            },
            py::arg("text_or_path"), py::kw_only(), py::arg("validate") = true, without_gil(),
            from_json_doc)
        .def_static(
            "from_json",
            [](const std::filesystem::path& path, bool validate) {
                return read_json(path, validation(validate));
            },
            py::arg("text_or_path"), py::kw_only(), py::arg("validate") = true, without_gil(),
            "Read the file.");
}

void bind_files(py::module_& module) {
    module.def(
        "write_whole_file",
        [](const std::filesystem::path& path, const py::typing::Union<py::bytes, py::str>& data) {
            if (!py::isinstance<py::bytes>(data) && !py::isinstance<py::str>(data))
                throw py::type_error("write_whole_file: data is neither bytes nor a str; pass one");
            const std::string bytes = py::cast<std::string>(data);
            const py::gil_scoped_release other_threads_run;
            write_whole_file(path, bytes);
            return path;
        },
        py::arg("path"), py::arg("data"),
        R"(Write to a temporary name beside the path, then rename: the file is whole or absent.

Parameters
----------
path : path-like
data : bytes or str
    A str is written as UTF-8.

Returns
-------
pathlib.Path
    The path written.

Raises
------
WriteError
    With path and cause; nothing is left behind.

Examples
--------
>>> import pathlib, planform, tempfile
>>> planform.write_whole_file(pathlib.Path(tempfile.mkdtemp()) / "note.txt", "larch").read_text()
'larch'
)");
    module.def("safe_file_stem", &safe_file_stem, py::arg("name"),
               R"(A file name (no folder, no suffix) made of a part's name.

Letters and digits of every script, '-', '_' and '.' stay, all else becomes '_'; composed (Unicode NFC); at
most 80 characters and 180 bytes; never empty, never starting with '.', no device name of any system.

Parameters
----------
name : str

Returns
-------
str

Examples
--------
>>> import planform
>>> planform.safe_file_stem("../../x"), planform.safe_file_stem("前板 2")
('_.._x', '前板_2')
)");
}

}  // namespace

void bind_write(py::module_& module) {
    bind_layer(module);
    auto type = py::reinterpret_borrow<py::class_<ProfileSet>>(module.attr("ProfileSet"));
    add_dxf(type);
    add_svg(type);
    add_json(type);
    bind_files(module);
}

}  // namespace planform::python
