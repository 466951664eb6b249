#include "write/dxf_document.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "planform/error.hpp"
#include "write/dxf_string.hpp"

namespace planform::write {

namespace {

// Fixed handles of the frame; entities come behind them.
constexpr Handle no_owner{0x0};
constexpr Handle vport_table{0x1}, ltype_table{0x2}, layer_table{0x3}, style_table{0x4},
    view_table{0x5}, ucs_table{0x6}, appid_table{0x7}, dimstyle_table{0x8}, block_table{0x9};
constexpr Handle active_vport{0xA}, ltype_by_block{0xB}, ltype_by_layer{0xC}, ltype_continuous{0xD},
    layer_zero{0xE}, standard_style{0xF}, acad_appid{0x10}, standard_dimstyle{0x11},
    planform_appid{0x1F};
constexpr Handle model_record{0x12}, paper_record{0x13};
constexpr Handle model_block{0x14}, model_block_end{0x15}, paper_block{0x16}, paper_block_end{0x17};
constexpr Handle root_dictionary{0x18}, group_dictionary{0x19}, layout_dictionary{0x1A},
    plot_style_dictionary{0x1B}, normal_plot_style{0x1C}, model_layout{0x1D}, paper_layout{0x1E};
constexpr Handle first_layer{0x20};

/// What the reference prescribes for the extents of a drawing without entities.
constexpr double no_extent = 1e20;

void add_section(DxfGroups& file, std::string_view name, const DxfGroups& content) {
    file.add(0, "SECTION");
    file.add(2, name);
    file.append(content);
    file.add(0, "ENDSEC");
}

void add_corner(DxfGroups& header, std::string_view variable, const Point2& corner) {
    header.add(9, variable);
    header.add_point(10, corner);
}

DxfGroups header(const Box2& extents, DrawingUnit unit, Handle next) {
    const bool metric = unit == DrawingUnit::millimetre;
    DxfGroups groups;
    groups.add(9, "$ACADVER");
    groups.add(1, "AC1015");
    groups.add(9, "$DWGCODEPAGE");
    groups.add(3, "ANSI_1252");
    add_corner(groups, "$INSBASE", Point2::Zero());
    const bool empty = extents.isEmpty();
    add_corner(groups, "$EXTMIN", empty ? Point2::Constant(no_extent) : extents.min());
    add_corner(groups, "$EXTMAX", empty ? Point2::Constant(-no_extent) : extents.max());
    groups.add(9, "$CLAYER");
    groups.add(8, "0");
    groups.add(9, "$CELTYPE");
    groups.add(6, "ByLayer");
    groups.add(9, "$CECOLOR");
    groups.add(62, 256);
    groups.add(9, "$TEXTSTYLE");
    groups.add(7, "Standard");
    groups.add(9, "$DIMSTYLE");
    groups.add(2, "Standard");
    groups.add(9, "$LUNITS");
    groups.add(70, 2);
    groups.add(9, "$LUPREC");
    groups.add(70, 6);
    groups.add(9, "$MEASUREMENT");
    groups.add(70, metric ? 1 : 0);
    groups.add(9, "$INSUNITS");
    groups.add(70, metric ? 4 : 1);
    groups.add(9, "$TILEMODE");
    groups.add(70, 1);
    groups.add(9, "$HANDSEED");
    groups.add(5, next);
    return groups;
}

void start_table(DxfGroups& groups, std::string_view name, Handle handle, std::size_t count) {
    groups.add(0, "TABLE");
    groups.add(2, name);
    groups.add(5, handle);
    groups.add(330, no_owner);
    groups.add(100, "AcDbSymbolTable");
    groups.add(70, count);
}

void start_record(DxfGroups& groups, std::string_view type, Handle handle, Handle table,
                  std::string_view subclass, std::string_view name) {
    groups.add(0, type);
    // A dimension style carries its handle under a code of its own.
    groups.add(type == "DIMSTYLE" ? 105 : 5, handle);
    groups.add(330, table);
    groups.add(100, "AcDbSymbolTableRecord");
    groups.add(100, subclass);
    groups.add(2, name);
}

void add_vport(DxfGroups& groups, const Box2& extents) {
    const Box2 view = extents.isEmpty() ? Box2(Point2::Zero(), Point2::Ones()) : extents;
    const Vector2 size = view.sizes();
    start_table(groups, "VPORT", vport_table, 1);
    start_record(groups, "VPORT", active_vport, vport_table, "AcDbViewportTableRecord", "*Active");
    groups.add(70, 0);
    groups.add_flat_point(10, Point2::Zero());  // the window on the screen, all of it
    groups.add_flat_point(11, Point2::Ones());
    groups.add_flat_point(12, view.center());
    groups.add_flat_point(13, Point2::Zero());  // snap and grid
    groups.add_flat_point(14, Point2::Constant(10.0));
    groups.add_flat_point(15, Point2::Constant(10.0));
    groups.add_point(16, Point2::Zero());  // seen from z
    groups.add(36, 1.0);
    groups.add_point(17, Point2::Zero());
    groups.add(40, 1.1 * std::max({size.x(), size.y(), 1e-6}));
    groups.add(41, 1.0);
    groups.add(42, 50.0);
    groups.add(43, 0.0);
    groups.add(44, 0.0);
    groups.add(50, 0.0);
    groups.add(51, 0.0);
    for (const auto& [code, value] :
         {std::pair(71, 0), std::pair(72, 100), std::pair(73, 1), std::pair(74, 3),
          std::pair(75, 0), std::pair(76, 0), std::pair(77, 0), std::pair(78, 0)}) {
        groups.add(code, value);
    }
    groups.add(0, "ENDTAB");
}

void add_line_types(DxfGroups& groups) {
    start_table(groups, "LTYPE", ltype_table, 3);
    for (const auto& [handle, name, text] :
         {std::tuple(ltype_by_block, "ByBlock", ""), std::tuple(ltype_by_layer, "ByLayer", ""),
          std::tuple(ltype_continuous, "Continuous", "Solid line")}) {
        start_record(groups, "LTYPE", handle, ltype_table, "AcDbLinetypeTableRecord", name);
        groups.add(70, 0);
        groups.add(3, std::string_view(text));
        groups.add(72, 65);
        groups.add(73, 0);
        groups.add(40, 0.0);
    }
    groups.add(0, "ENDTAB");
}

/// The nearest of the widths that the format knows, in hundredths of a millimetre; -3: its default.
/// Source: the published DXF reference, "lineweight" (from memory).
int line_weight(const std::optional<double>& width) {
    constexpr std::array<int, 24> known = {0,  5,  9,  13, 15, 18,  20,  25,  30,  35,  40,  50,
                                           53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211};
    if (!width) return -3;
    const auto distance = [&](int weight) { return std::abs(weight - 100.0 * *width); };
    return *std::min_element(known.begin(), known.end(),
                             [&](int a, int b) { return distance(a) < distance(b); });
}

void add_layer(DxfGroups& groups, Handle handle, const Layer& layer) {
    start_record(groups, "LAYER", handle, layer_table, "AcDbLayerTableRecord",
                 dxf_layer_name(layer.name));
    groups.add(70, 0);
    groups.add(62, layer.color_index);
    if (layer.is_true_color) groups.add(420, static_cast<std::size_t>(layer.rgb));
    groups.add(6, "Continuous");
    groups.add(370, line_weight(layer.line_width));
    groups.add(390, normal_plot_style);
}

void add_layers(DxfGroups& groups, const std::vector<Layer>& layers) {
    const auto zero = std::find_if(layers.begin(), layers.end(),
                                   [](const Layer& layer) { return layer.name == "0"; });
    const std::size_t others = layers.size() - (zero == layers.end() ? 0 : 1);
    start_table(groups, "LAYER", layer_table, 1 + others);
    // Each file has a layer 0.
    add_layer(groups, layer_zero, zero == layers.end() ? Layer{"0", 7, 0, false, {}, {}} : *zero);
    Handle handle = first_layer;
    for (const Layer& layer : layers) {
        if (layer.name == "0") continue;
        add_layer(groups, handle, layer);
        ++handle.number;
    }
    groups.add(0, "ENDTAB");
}

void add_styles(DxfGroups& groups) {
    start_table(groups, "STYLE", style_table, 1);
    start_record(groups, "STYLE", standard_style, style_table, "AcDbTextStyleTableRecord",
                 "Standard");
    groups.add(70, 0);
    groups.add(40, 0.0);
    groups.add(41, 1.0);
    groups.add(50, 0.0);
    groups.add(71, 0);
    groups.add(42, 2.5);
    groups.add(3, "txt");
    groups.add(4, "");
    groups.add(0, "ENDTAB");
}

void add_small_tables(DxfGroups& groups) {
    start_table(groups, "VIEW", view_table, 0);
    groups.add(0, "ENDTAB");
    start_table(groups, "UCS", ucs_table, 0);
    groups.add(0, "ENDTAB");
    start_table(groups, "APPID", appid_table, 2);
    start_record(groups, "APPID", acad_appid, appid_table, "AcDbRegAppTableRecord", "ACAD");
    groups.add(70, 0);
    start_record(groups, "APPID", planform_appid, appid_table, "AcDbRegAppTableRecord",
                 name_application);
    groups.add(70, 0);
    groups.add(0, "ENDTAB");
    start_table(groups, "DIMSTYLE", dimstyle_table, 1);
    groups.add(100, "AcDbDimStyleTable");
    groups.add(71, 0);
    start_record(groups, "DIMSTYLE", standard_dimstyle, dimstyle_table, "AcDbDimStyleTableRecord",
                 "Standard");
    groups.add(70, 0);
    groups.add(0, "ENDTAB");
}

void add_block_records(DxfGroups& groups) {
    start_table(groups, "BLOCK_RECORD", block_table, 2);
    for (const auto& [handle, name, layout] :
         {std::tuple(model_record, "*Model_Space", model_layout),
          std::tuple(paper_record, "*Paper_Space", paper_layout)}) {
        start_record(groups, "BLOCK_RECORD", handle, block_table, "AcDbBlockTableRecord", name);
        groups.add(340, layout);
    }
    groups.add(0, "ENDTAB");
}

DxfGroups tables(const Box2& extents, const std::vector<Layer>& layers) {
    DxfGroups groups;
    add_vport(groups, extents);
    add_line_types(groups);
    add_layers(groups, layers);
    add_styles(groups);
    add_small_tables(groups);
    add_block_records(groups);
    return groups;
}

DxfGroups blocks() {
    DxfGroups groups;
    for (const auto& [begin, end, record, name] :
         {std::tuple(model_block, model_block_end, model_record, "*Model_Space"),
          std::tuple(paper_block, paper_block_end, paper_record, "*Paper_Space")}) {
        groups.add(0, "BLOCK");
        groups.add(5, begin);
        groups.add(330, record);
        groups.add(100, "AcDbEntity");
        groups.add(8, "0");
        groups.add(100, "AcDbBlockBegin");
        groups.add(2, std::string_view(name));
        groups.add(70, 0);
        groups.add_point(10, Point2::Zero());
        groups.add(3, std::string_view(name));
        groups.add(1, "");
        groups.add(0, "ENDBLK");
        groups.add(5, end);
        groups.add(330, record);
        groups.add(100, "AcDbEntity");
        groups.add(8, "0");
        groups.add(100, "AcDbBlockEnd");
    }
    return groups;
}

void start_dictionary(DxfGroups& groups, std::string_view type, Handle handle, Handle owner) {
    groups.add(0, type);
    groups.add(5, handle);
    groups.add(330, owner);
    groups.add(100, "AcDbDictionary");
    groups.add(281, 1);
}

void add_entry(DxfGroups& groups, std::string_view name, Handle handle) {
    groups.add(3, name);
    groups.add(350, handle);
}

void add_dictionaries(DxfGroups& groups) {
    start_dictionary(groups, "DICTIONARY", root_dictionary, no_owner);
    add_entry(groups, "ACAD_GROUP", group_dictionary);
    add_entry(groups, "ACAD_LAYOUT", layout_dictionary);
    add_entry(groups, "ACAD_PLOTSTYLENAME", plot_style_dictionary);
    start_dictionary(groups, "DICTIONARY", group_dictionary, root_dictionary);
    start_dictionary(groups, "DICTIONARY", layout_dictionary, root_dictionary);
    add_entry(groups, "Layout1", paper_layout);
    add_entry(groups, "Model", model_layout);
    start_dictionary(groups, "ACDBDICTIONARYWDFLT", plot_style_dictionary, root_dictionary);
    add_entry(groups, "Normal", normal_plot_style);
    groups.add(100, "AcDbDictionaryWithDefault");
    groups.add(340, normal_plot_style);
    groups.add(0, "ACDBPLACEHOLDER");
    groups.add(5, normal_plot_style);
    groups.add(330, plot_style_dictionary);
}

/// Plot settings of a page that nobody prints: a sheet of A4 without margins, scale 1:1.
void add_plot_settings(DxfGroups& groups, bool model) {
    groups.add(100, "AcDbPlotSettings");
    groups.add(1, "");
    groups.add(2, "none_device");
    groups.add(4, "A4");
    groups.add(6, "");
    for (const int margin : {40, 41, 42, 43}) groups.add(margin, 0.0);
    groups.add(44, 210.0);
    groups.add(45, 297.0);
    for (const int zero : {46, 47, 48, 49, 140, 141}) groups.add(zero, 0.0);
    groups.add(142, 1.0);
    groups.add(143, 1.0);
    groups.add(70, model ? 1024 + 688 : 688);
    groups.add(72, 1);
    groups.add(73, 0);
    groups.add(74, 5);
    groups.add(7, "");
    groups.add(75, 16);
    groups.add(147, 1.0);
    groups.add(148, 0.0);
    groups.add(149, 0.0);
}

void add_layout(DxfGroups& groups, Handle handle, Handle record, const Box2& extents, bool model) {
    groups.add(0, "LAYOUT");
    groups.add(5, handle);
    groups.add(330, layout_dictionary);
    add_plot_settings(groups, model);
    groups.add(100, "AcDbLayout");
    groups.add(1, std::string_view(model ? "Model" : "Layout1"));
    groups.add(70, 1);
    groups.add(71, model ? 0 : 1);
    groups.add_flat_point(10, Point2::Zero());
    groups.add_flat_point(11, Point2(210.0, 297.0));
    groups.add_point(12, Point2::Zero());
    const bool empty = extents.isEmpty() || !model;
    groups.add_point(14, empty ? Point2::Constant(no_extent) : extents.min());
    groups.add_point(15, empty ? Point2::Constant(-no_extent) : extents.max());
    groups.add(146, 0.0);
    groups.add_point(13, Point2::Zero());
    groups.add_point(16, Point2::UnitX());
    groups.add_point(17, Point2::UnitY());
    groups.add(76, 0);
    groups.add(330, record);
}

DxfGroups objects(const Box2& extents) {
    DxfGroups groups;
    add_dictionaries(groups);
    add_layout(groups, model_layout, model_record, extents, true);
    add_layout(groups, paper_layout, paper_record, extents, false);
    return groups;
}

/// Objects that are not built into every reader are declared, with the program's own names for
/// them.
DxfGroups classes() {
    DxfGroups groups;
    for (const auto& [name, cpp_name] :
         {std::pair("ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"),
          std::pair("ACDBPLACEHOLDER", "AcDbPlaceHolder"), std::pair("LAYOUT", "AcDbLayout")}) {
        groups.add(0, "CLASS");
        groups.add(1, std::string_view(name));
        groups.add(2, std::string_view(cpp_name));
        groups.add(3, "ObjectDBX Classes");
        groups.add(90, 0);
        groups.add(280, 0);
        groups.add(281, 0);
    }
    return groups;
}

}  // namespace

const Handle model_space = model_record;
const Handle first_entity{0x100};

std::string dxf_layer_name(std::string_view name) {
    // Source: the published DXF reference, "symbol names" (from memory, judged by a reader).
    constexpr std::string_view forbidden = "<>/\\\":;?*|=,`";
    const std::string held = dxf_string(name);
    if (name.empty() || name.find_first_of(forbidden) != std::string_view::npos ||
        held.find_first_not_of(' ') == std::string::npos)
        throw GeometryError(ErrorKind::invalid_argument,
                            "layers: a layer of a DXF can't be called '" + std::string(name) +
                                "'; leave out any of " + std::string(forbidden));
    return held;
}

std::string dxf_document(const DxfGroups& entities, const Box2& extents, DrawingUnit unit,
                         Handle next, const std::vector<Layer>& layers) {
    DxfGroups file;
    add_section(file, "HEADER", header(extents, unit, next));
    add_section(file, "CLASSES", classes());
    add_section(file, "TABLES", tables(extents, layers));
    add_section(file, "BLOCKS", blocks());
    add_section(file, "ENTITIES", entities);
    add_section(file, "OBJECTS", objects(extents));
    file.add(0, "EOF");
    return file.text();
}

}  // namespace planform::write
