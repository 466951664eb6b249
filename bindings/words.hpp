#pragma once

/// Options that are words in Python ("union", "arcs", "mm") and enums in C++. In signatures and
/// stubs they show as typing.Literal; a wrong word raises GeometryError(unknown_option) with the
/// valid ones.

#include <pybind11/pybind11.h>

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "planform/bridges.hpp"
#include "planform/congruence.hpp"
#include "planform/contact.hpp"
#include "planform/drawing.hpp"
#include "planform/error.hpp"
#include "planform/features.hpp"
#include "planform/flatten.hpp"
#include "planform/inspect.hpp"
#include "planform/layout.hpp"
#include "planform/model.hpp"
#include "planform/offset.hpp"
#include "planform/plan.hpp"
#include "planform/plate.hpp"
#include "planform/profile.hpp"
#include "planform/write.hpp"

namespace planform::python {

/// The words of one enum; specialised below with `option` (its name in messages) and `table`.
template <class Enum>
struct Words;

template <>
struct Words<Merge> {
    static constexpr std::string_view option = "merge";
    static constexpr std::array<std::pair<const char*, Merge>, 2> table{
        {{"union", Merge::unite}, {"keep", Merge::keep}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['union', 'keep']");
};

template <>
struct Words<Heal> {
    static constexpr std::string_view option = "heal";
    static constexpr std::array<std::pair<const char*, Heal>, 2> table{
        {{"needed", Heal::needed}, {"always", Heal::always}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['needed', 'always']");
};

template <>
struct Words<Hold> {
    static constexpr std::string_view option = "hold";
    static constexpr std::array<std::pair<const char*, Hold>, 2> table{
        {{"islands", Hold::islands}, {"drop-outs", Hold::drop_outs}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['islands', 'drop-outs']");
};

template <>
struct Words<FitOn> {
    static constexpr std::string_view option = "fit_on";
    static constexpr std::array<std::pair<const char*, FitOn>, 3> table{
        {{"slot", FitOn::slot}, {"tab", FitOn::tab}, {"both", FitOn::both}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['slot', 'tab', 'both']");
};

template <>
struct Words<Side> {
    static constexpr std::string_view option = "side";
    static constexpr std::array<std::pair<const char*, Side>, 2> table{
        {{"below", Side::below}, {"above", Side::above}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['below', 'above']");
};

template <>
struct Words<MarkedSides> {
    static constexpr std::string_view option = "marks";
    static constexpr std::array<std::pair<const char*, MarkedSides>, 4> table{
        {{"none", MarkedSides::none},
         {"up", MarkedSides::up},
         {"down", MarkedSides::down},
         {"both", MarkedSides::both}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['none', 'up', 'down', 'both']");
};

template <>
struct Words<At> {
    static constexpr std::string_view option = "at";
    static constexpr std::array<std::pair<const char*, At>, 4> table{{{"shadow", At::shadow},
                                                                      {"top", At::top},
                                                                      {"bottom", At::bottom},
                                                                      {"through", At::through}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['shadow', 'top', 'bottom', 'through']");
};

template <>
struct Words<Verify> {
    static constexpr std::string_view option = "verify";
    static constexpr std::array<std::pair<const char*, Verify>, 2> table{
        {{"quick", Verify::quick}, {"full", Verify::full}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['quick', 'full']");
};

template <>
struct Words<FeatureKind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, FeatureKind>, 12> table{
        {{"pocket", FeatureKind::pocket},
         {"step", FeatureKind::step},
         {"groove", FeatureKind::groove},
         {"boss", FeatureKind::boss},
         {"chamfer", FeatureKind::chamfer},
         {"countersink", FeatureKind::countersink},
         {"counterbore", FeatureKind::counterbore},
         {"rounded-edge", FeatureKind::rounded_edge},
         {"bevelled-wall", FeatureKind::bevelled_wall},
         {"cross-hole", FeatureKind::cross_hole},
         {"cavity", FeatureKind::cavity},
         {"free-form", FeatureKind::free_form}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['pocket', 'step', 'groove', 'boss', 'chamfer', 'countersink', "
        "'counterbore', 'rounded-edge', 'bevelled-wall', 'cross-hole', 'cavity', 'free-form']");
};

template <>
struct Words<FeatureSide> {
    static constexpr std::string_view option = "side";
    static constexpr std::array<std::pair<const char*, FeatureSide>, 4> table{
        {{"top", FeatureSide::top},
         {"bottom", FeatureSide::bottom},
         {"wall", FeatureSide::wall},
         {"inside", FeatureSide::inside}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['top', 'bottom', 'wall', 'inside']");
};

template <>
struct Words<NotFlat> {
    static constexpr std::string_view option = "reason";
    static constexpr std::array<std::pair<const char*, NotFlat>, 11> table{
        {{"turned-part", NotFlat::turned_part},
         {"block", NotFlat::block},
         {"bent-sheet", NotFlat::bent_sheet},
         {"wedge", NotFlat::wedge},
         {"draft", NotFlat::draft},
         {"stands-out", NotFlat::stands_out},
         {"hollowed", NotFlat::hollowed},
         {"milled", NotFlat::milled},
         {"no-straight-walls", NotFlat::no_straight_walls},
         {"no-flat-faces", NotFlat::no_flat_faces},
         {"not-measured", NotFlat::not_measured}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['turned-part', 'block', 'bent-sheet', 'wedge', 'draft', 'hollowed', "
        "'no-flat-faces', 'not-measured']");
};

template <>
struct Words<Turning> {
    static constexpr std::string_view option = "mirrored";
    static constexpr std::array<std::pair<const char*, Turning>, 3> table{
        {{"never", Turning::never}, {"allowed", Turning::allowed}, {"only", Turning::only}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['never', 'allowed', 'only']");
};

template <>
struct Words<CurveStyle> {
    static constexpr std::string_view option = "curves";
    static constexpr std::array<std::pair<const char*, CurveStyle>, 2> table{
        {{"arcs", CurveStyle::arcs}, {"exact", CurveStyle::exact}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['arcs', 'exact']");
};

template <>
struct Words<DrawingUnit> {
    static constexpr std::string_view option = "unit";
    static constexpr std::array<std::pair<const char*, DrawingUnit>, 2> table{
        {{"mm", DrawingUnit::millimetre}, {"inch", DrawingUnit::inch}}};
    static constexpr auto type_name = pybind11::detail::const_name("typing.Literal['mm', 'inch']");
};

template <>
struct Words<Provenance::Kind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, Provenance::Kind>, 4> table{
        {{"unknown", Provenance::Kind::unknown},
         {"edge", Provenance::Kind::edge},
         {"fold", Provenance::Kind::fold},
         {"section", Provenance::Kind::section}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['unknown', 'edge', 'fold', 'section']");
};

template <>
struct Words<Gap::Closing> {
    static constexpr std::string_view option = "closing";
    static constexpr std::array<std::pair<const char*, Gap::Closing>, 4> table{
        {{"open", Gap::Closing::open},
         {"extended", Gap::Closing::extended},
         {"blended", Gap::Closing::blended},
         {"bridged", Gap::Closing::bridged}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['open', 'extended', 'blended', 'bridged']");
};

template <>
struct Words<LayoutFaultKind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, LayoutFaultKind>, 5> table{
        {{"outside_sheet", LayoutFaultKind::outside_sheet},
         {"in_margin", LayoutFaultKind::in_margin},
         {"not_clear", LayoutFaultKind::not_clear},
         {"too_near", LayoutFaultKind::too_near},
         {"overlap", LayoutFaultKind::overlap}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['outside_sheet', 'in_margin', 'not_clear', 'too_near', 'overlap']");
};

template <>
struct Words<RuleKind> {
    static constexpr std::string_view option = "rule";
    static constexpr std::array<std::pair<const char*, RuleKind>, 38> table{
        {{"inner_width", RuleKind::inner_width},
         {"web", RuleKind::web},
         {"neck", RuleKind::neck},
         {"point_touch", RuleKind::point_touch},
         {"straight_cut", RuleKind::straight_cut},
         {"not_flat", RuleKind::not_flat},
         {"sheet", RuleKind::sheet},
         {"smallest_size", RuleKind::smallest_size},
         {"largest_size", RuleKind::largest_size},
         {"gauge", RuleKind::gauge},
         {"sharp_corner", RuleKind::sharp_corner},
         {"small_arc", RuleKind::small_arc},
         {"short_segment", RuleKind::short_segment},
         {"short_contour", RuleKind::short_contour},
         {"many_points", RuleKind::many_points},
         {"island", RuleKind::island},
         {"part_in_hole", RuleKind::part_in_hole},
         {"drop_out", RuleKind::drop_out},
         {"open_end", RuleKind::open_end},
         {"doubled", RuleKind::doubled},
         {"stray", RuleKind::stray},
         {"crossing", RuleKind::crossing},
         {"zero_length", RuleKind::zero_length},
         {"unread", RuleKind::unread},
         {"drawing_unit", RuleKind::drawing_unit},
         {"role", RuleKind::role},
         {"left_over", RuleKind::left_over},
         {"block", RuleKind::block},
         {"hatch", RuleKind::hatch},
         {"empty", RuleKind::empty},
         {"off_plane", RuleKind::off_plane},
         {"uneven_scale", RuleKind::uneven_scale},
         {"flattened", RuleKind::flattened},
         {"contour_gone", RuleKind::contour_gone},
         {"split", RuleKind::split},
         {"merged", RuleKind::merged},
         {"unreached", RuleKind::unreached},
         {"relief", RuleKind::relief}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', "
        "'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', "
        "'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', "
        "'open_end', 'doubled', 'stray', 'crossing', 'zero_length', "
        "'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', "
        "'uneven_scale', 'flattened', 'contour_gone', 'split', "
        "'merged', "
        "'unreached', 'relief']");
};

template <>
struct Words<Severity> {
    static constexpr std::string_view option = "severity";
    static constexpr std::array<std::pair<const char*, Severity>, 3> table{
        {{"note", Severity::note}, {"warning", Severity::warning}, {"error", Severity::error}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['note', 'warning', 'error']");
};

template <>
struct Words<LimitUnit> {
    static constexpr std::string_view option = "unit";
    static constexpr std::array<std::pair<const char*, LimitUnit>, 5> table{
        {{"thicknesses", LimitUnit::thicknesses},
         {"mm", LimitUnit::millimetres},
         {"degrees", LimitUnit::degrees},
         {"points", LimitUnit::points},
         {"", LimitUnit::none}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['thicknesses', 'mm', 'degrees', 'points', '']");
};

template <>
struct Words<NarrowPlace::Kind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, NarrowPlace::Kind>, 3> table{
        {{"inner", NarrowPlace::Kind::inner},
         {"web", NarrowPlace::Kind::web},
         {"neck", NarrowPlace::Kind::neck}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['inner', 'web', 'neck']");
};

template <>
struct Words<Corners> {
    static constexpr std::string_view option = "corners";
    static constexpr std::array<std::pair<const char*, Corners>, 3> table{
        {{"round", Corners::round}, {"sharp", Corners::sharp}, {"flat", Corners::flat}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['round', 'sharp', 'flat']");
};

template <>
struct Words<ContourRole> {
    static constexpr std::string_view option = "role";
    static constexpr std::array<std::pair<const char*, ContourRole>, 3> table{
        {{"outer", ContourRole::outer},
         {"hole", ContourRole::hole},
         {"island", ContourRole::island}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['outer', 'hole', 'island']");
};

template <>
struct Words<ReliefStyle> {
    static constexpr std::string_view option = "style";
    static constexpr std::array<std::pair<const char*, ReliefStyle>, 2> table{
        {{"corner", ReliefStyle::corner}, {"side", ReliefStyle::side}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['corner', 'side']");
};
template <>
struct Words<EntryShape> {
    static constexpr std::string_view option = "entry_shape";
    static constexpr std::array<std::pair<const char*, EntryShape>, 2> table{
        {{"line", EntryShape::line}, {"arc", EntryShape::arc}}};
    static constexpr auto type_name = pybind11::detail::const_name("typing.Literal['line', 'arc']");
};

template <>
struct Words<StartAt> {
    static constexpr std::string_view option = "start";
    static constexpr std::array<std::pair<const char*, StartAt>, 2> table{
        {{"middle", StartAt::middle}, {"corner", StartAt::corner}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['middle', 'corner']");
};

template <>
struct Words<CutOrder> {
    static constexpr std::string_view option = "order";
    static constexpr std::array<std::pair<const char*, CutOrder>, 3> table{
        {{"shortest", CutOrder::shortest}, {"apart", CutOrder::apart}, {"along", CutOrder::along}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['shortest', 'apart', 'along']");
};

template <>
struct Words<CutRole> {
    static constexpr std::string_view option = "role";
    static constexpr std::array<std::pair<const char*, CutRole>, 3> table{
        {{"mark", CutRole::mark}, {"hole", CutRole::hole}, {"outer", CutRole::outer}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['mark', 'hole', 'outer']");
};

template <>
struct Words<EntryRoom> {
    static constexpr std::string_view option = "room";
    static constexpr std::array<std::pair<const char*, EntryRoom>, 7> table{
        {{"none", EntryRoom::none},
         {"as_asked", EntryRoom::as_asked},
         {"moved", EntryRoom::moved},
         {"shortened", EntryRoom::shortened},
         {"middle", EntryRoom::middle},
         {"tight", EntryRoom::tight},
         {"left_out", EntryRoom::left_out}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['none', 'as_asked', 'moved', 'shortened', 'middle', 'tight', 'left_out']");
};

template <>
struct Words<PlanRule> {
    static constexpr std::string_view option = "rule";
    static constexpr std::array<std::pair<const char*, PlanRule>, 6> table{
        {{"entry_left_out", PlanRule::entry_left_out},
         {"entry_tight", PlanRule::entry_tight},
         {"strip_left_out", PlanRule::strip_left_out},
         {"common_cut", PlanRule::common_cut},
         {"falls_through", PlanRule::falls_through},
         {"drop_out", PlanRule::drop_out}}};
    static constexpr auto type_name = pybind11::detail::const_name(
        "typing.Literal['entry_left_out', 'entry_tight', 'strip_left_out', 'common_cut', "
        "'falls_through', 'drop_out']");
};

template <>
struct Words<Rest> {
    static constexpr std::string_view option = "rest";
    static constexpr std::array<std::pair<const char*, Rest>, 3> table{
        {{"lies", Rest::lies}, {"may_tip", Rest::may_tip}, {"falls_through", Rest::falls_through}}};
    static constexpr auto type_name =
        pybind11::detail::const_name("typing.Literal['lies', 'may_tip', 'falls_through']");
};

/// Throws GeometryError(unknown_option) that lists the valid words; of many those that are nearest.
[[noreturn]] void refuse_word(std::string_view option, std::string_view word,
                              const std::vector<std::string>& valid);

/// The enum's value for a word; throws GeometryError(unknown_option) that lists the valid words.
template <class Enum>
Enum value_of(std::string_view word) {
    std::vector<std::string> valid;
    for (const auto& [candidate, value] : Words<Enum>::table) {
        if (word == candidate) return value;
        valid.emplace_back(candidate);
    }
    refuse_word(Words<Enum>::option, word, valid);
}

template <class Enum>
const char* word_of(Enum wanted) {
    for (const auto& [word, value] : Words<Enum>::table) {
        if (value == wanted) return word;
    }
    return "";
}

/// Converts one such enum from and to a Python str.
template <class Enum>
struct WordCaster {
    PYBIND11_TYPE_CASTER(Enum, Words<Enum>::type_name);

    bool load(pybind11::handle source, bool) {
        if (!pybind11::isinstance<pybind11::str>(source)) return false;
        value = value_of<Enum>(pybind11::cast<std::string>(source));
        return true;
    }
    static pybind11::handle cast(Enum source, pybind11::return_value_policy, pybind11::handle) {
        return pybind11::str(word_of(source)).release();
    }
};

}  // namespace planform::python

namespace pybind11::detail {

template <>
struct type_caster<planform::Merge> : planform::python::WordCaster<planform::Merge> {};
template <>
struct type_caster<planform::Heal> : planform::python::WordCaster<planform::Heal> {};
template <>
struct type_caster<planform::Hold> : planform::python::WordCaster<planform::Hold> {};
template <>
struct type_caster<planform::FitOn> : planform::python::WordCaster<planform::FitOn> {};
template <>
struct type_caster<planform::Side> : planform::python::WordCaster<planform::Side> {};
template <>
struct type_caster<planform::At> : planform::python::WordCaster<planform::At> {};
template <>
struct type_caster<planform::MarkedSides> : planform::python::WordCaster<planform::MarkedSides> {};
template <>
struct type_caster<planform::Verify> : planform::python::WordCaster<planform::Verify> {};
template <>
struct type_caster<planform::FeatureKind> : planform::python::WordCaster<planform::FeatureKind> {};
template <>
struct type_caster<planform::FeatureSide> : planform::python::WordCaster<planform::FeatureSide> {};
template <>
struct type_caster<planform::NotFlat> : planform::python::WordCaster<planform::NotFlat> {};
template <>
struct type_caster<planform::Turning> : planform::python::WordCaster<planform::Turning> {};
template <>
struct type_caster<planform::CurveStyle> : planform::python::WordCaster<planform::CurveStyle> {};
template <>
struct type_caster<planform::DrawingUnit> : planform::python::WordCaster<planform::DrawingUnit> {};
template <>
struct type_caster<planform::Gap::Closing> : planform::python::WordCaster<planform::Gap::Closing> {
};
template <>
struct type_caster<planform::Provenance::Kind>
    : planform::python::WordCaster<planform::Provenance::Kind> {};

template <>
struct type_caster<planform::LayoutFaultKind>
    : planform::python::WordCaster<planform::LayoutFaultKind> {};
template <>
struct type_caster<planform::RuleKind> : planform::python::WordCaster<planform::RuleKind> {};
template <>
struct type_caster<planform::Severity> : planform::python::WordCaster<planform::Severity> {};
template <>
struct type_caster<planform::LimitUnit> : planform::python::WordCaster<planform::LimitUnit> {};
template <>
struct type_caster<planform::NarrowPlace::Kind>
    : planform::python::WordCaster<planform::NarrowPlace::Kind> {};
template <>
struct type_caster<planform::Corners> : planform::python::WordCaster<planform::Corners> {};
template <>
struct type_caster<planform::ContourRole> : planform::python::WordCaster<planform::ContourRole> {};
template <>
struct type_caster<planform::ReliefStyle> : planform::python::WordCaster<planform::ReliefStyle> {};
template <>
struct type_caster<planform::EntryShape> : planform::python::WordCaster<planform::EntryShape> {};
template <>
struct type_caster<planform::StartAt> : planform::python::WordCaster<planform::StartAt> {};
template <>
struct type_caster<planform::CutOrder> : planform::python::WordCaster<planform::CutOrder> {};
template <>
struct type_caster<planform::CutRole> : planform::python::WordCaster<planform::CutRole> {};
template <>
struct type_caster<planform::EntryRoom> : planform::python::WordCaster<planform::EntryRoom> {};
template <>
struct type_caster<planform::PlanRule> : planform::python::WordCaster<planform::PlanRule> {};
template <>
struct type_caster<planform::Rest> : planform::python::WordCaster<planform::Rest> {};
}  // namespace pybind11::detail
