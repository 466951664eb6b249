#pragma once

/// The words of all enums that are words in Python, one table each: signatures, stubs, messages and
/// the choices of the command line come from here.

#include <array>
#include <string_view>
#include <utility>

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
#include "planform/motion.hpp"
#include "planform/offset.hpp"
#include "planform/plan.hpp"
#include "planform/plate.hpp"
#include "planform/profile.hpp"
#include "planform/unfold.hpp"
#include "planform/write.hpp"

namespace planform::python {

/// The words of one enum: `option` (its name in messages) and `table`.
template <class Enum>
struct Words;

template <>
struct Words<Merge> {
    static constexpr std::string_view option = "merge";
    static constexpr std::array<std::pair<const char*, Merge>, 2> table{
        {{"union", Merge::unite}, {"keep", Merge::keep}}};
};

template <>
struct Words<BendRuleKind> {
    static constexpr std::string_view option = "rule";
    static constexpr std::array<std::pair<const char*, BendRuleKind>, 3> table{
        {{"k-factor", BendRuleKind::k_factor},
         {"din-6935", BendRuleKind::din_6935},
         {"table", BendRuleKind::table}}};
};

template <>
struct Words<BendKind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, BendKind>, 3> table{
        {{"bend", BendKind::bend}, {"conical", BendKind::conical}, {"roll", BendKind::roll}}};
};

template <>
struct Words<Heal> {
    static constexpr std::string_view option = "heal";
    static constexpr std::array<std::pair<const char*, Heal>, 2> table{
        {{"needed", Heal::needed}, {"always", Heal::always}}};
};

template <>
struct Words<Hold> {
    static constexpr std::string_view option = "hold";
    static constexpr std::array<std::pair<const char*, Hold>, 2> table{
        {{"islands", Hold::islands}, {"drop-outs", Hold::drop_outs}}};
};

template <>
struct Words<FitOn> {
    static constexpr std::string_view option = "fit_on";
    static constexpr std::array<std::pair<const char*, FitOn>, 3> table{
        {{"slot", FitOn::slot}, {"tab", FitOn::tab}, {"both", FitOn::both}}};
};

template <>
struct Words<Side> {
    static constexpr std::string_view option = "side";
    static constexpr std::array<std::pair<const char*, Side>, 2> table{
        {{"below", Side::below}, {"above", Side::above}}};
};

template <>
struct Words<MarkedSides> {
    static constexpr std::string_view option = "marks";
    static constexpr std::array<std::pair<const char*, MarkedSides>, 4> table{
        {{"up", MarkedSides::up},
         {"down", MarkedSides::down},
         {"both", MarkedSides::both},
         {"none", MarkedSides::none}}};
};

template <>
struct Words<At> {
    static constexpr std::string_view option = "at";
    static constexpr std::array<std::pair<const char*, At>, 4> table{{{"shadow", At::shadow},
                                                                      {"top", At::top},
                                                                      {"bottom", At::bottom},
                                                                      {"through", At::through}}};
};

template <>
struct Words<Verify> {
    static constexpr std::string_view option = "verify";
    static constexpr std::array<std::pair<const char*, Verify>, 2> table{
        {{"quick", Verify::quick}, {"full", Verify::full}}};
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
};

template <>
struct Words<FeatureSide> {
    static constexpr std::string_view option = "side";
    static constexpr std::array<std::pair<const char*, FeatureSide>, 4> table{
        {{"top", FeatureSide::top},
         {"bottom", FeatureSide::bottom},
         {"wall", FeatureSide::wall},
         {"inside", FeatureSide::inside}}};
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
};

template <>
struct Words<Turning> {
    static constexpr std::string_view option = "mirrored";
    static constexpr std::array<std::pair<const char*, Turning>, 3> table{
        {{"never", Turning::never}, {"allowed", Turning::allowed}, {"only", Turning::only}}};
};

template <>
struct Words<CurveStyle> {
    static constexpr std::string_view option = "curves";
    static constexpr std::array<std::pair<const char*, CurveStyle>, 2> table{
        {{"arcs", CurveStyle::arcs}, {"exact", CurveStyle::exact}}};
};

template <>
struct Words<SimpleCurves> {
    static constexpr std::string_view option = "curves";
    static constexpr std::array<std::pair<const char*, SimpleCurves>, 2> table{
        {{"arcs", SimpleCurves::arcs}, {"lines", SimpleCurves::lines}}};
};

template <>
struct Words<DrawingUnit> {
    static constexpr std::string_view option = "unit";
    static constexpr std::array<std::pair<const char*, DrawingUnit>, 2> table{
        {{"mm", DrawingUnit::millimetre}, {"inch", DrawingUnit::inch}}};
};

template <>
struct Words<Provenance::Kind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, Provenance::Kind>, 4> table{
        {{"unknown", Provenance::Kind::unknown},
         {"edge", Provenance::Kind::edge},
         {"fold", Provenance::Kind::fold},
         {"section", Provenance::Kind::section}}};
};

template <>
struct Words<Gap::Closing> {
    static constexpr std::string_view option = "closing";
    static constexpr std::array<std::pair<const char*, Gap::Closing>, 4> table{
        {{"open", Gap::Closing::open},
         {"extended", Gap::Closing::extended},
         {"blended", Gap::Closing::blended},
         {"bridged", Gap::Closing::bridged}}};
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
};

template <>
struct Words<RuleKind> {
    static constexpr std::string_view option = "rule";
    static constexpr std::array<std::pair<const char*, RuleKind>, 42> table{
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
         {"bend_distance", RuleKind::bend_distance},
         {"flange", RuleKind::flange},
         {"bend_relief", RuleKind::bend_relief},
         {"bend_radius", RuleKind::bend_radius},
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
};

template <>
struct Words<Severity> {
    static constexpr std::string_view option = "severity";
    static constexpr std::array<std::pair<const char*, Severity>, 3> table{
        {{"note", Severity::note}, {"warning", Severity::warning}, {"error", Severity::error}}};
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
};

template <>
struct Words<NarrowPlace::Kind> {
    static constexpr std::string_view option = "kind";
    static constexpr std::array<std::pair<const char*, NarrowPlace::Kind>, 3> table{
        {{"inner", NarrowPlace::Kind::inner},
         {"web", NarrowPlace::Kind::web},
         {"neck", NarrowPlace::Kind::neck}}};
};

template <>
struct Words<Corners> {
    static constexpr std::string_view option = "corners";
    static constexpr std::array<std::pair<const char*, Corners>, 3> table{
        {{"round", Corners::round}, {"sharp", Corners::sharp}, {"flat", Corners::flat}}};
};

template <>
struct Words<ContourRole> {
    static constexpr std::string_view option = "role";
    static constexpr std::array<std::pair<const char*, ContourRole>, 3> table{
        {{"outer", ContourRole::outer},
         {"hole", ContourRole::hole},
         {"island", ContourRole::island}}};
};

template <>
struct Words<ReliefStyle> {
    static constexpr std::string_view option = "style";
    static constexpr std::array<std::pair<const char*, ReliefStyle>, 2> table{
        {{"corner", ReliefStyle::corner}, {"side", ReliefStyle::side}}};
};
template <>
struct Words<EntryShape> {
    static constexpr std::string_view option = "entry_shape";
    static constexpr std::array<std::pair<const char*, EntryShape>, 2> table{
        {{"line", EntryShape::line}, {"arc", EntryShape::arc}}};
};

template <>
struct Words<StartAt> {
    static constexpr std::string_view option = "start";
    static constexpr std::array<std::pair<const char*, StartAt>, 2> table{
        {{"middle", StartAt::middle}, {"corner", StartAt::corner}}};
};

template <>
struct Words<CutOrder> {
    static constexpr std::string_view option = "order";
    static constexpr std::array<std::pair<const char*, CutOrder>, 3> table{
        {{"shortest", CutOrder::shortest}, {"apart", CutOrder::apart}, {"along", CutOrder::along}}};
};

template <>
struct Words<CutRole> {
    static constexpr std::string_view option = "role";
    static constexpr std::array<std::pair<const char*, CutRole>, 3> table{
        {{"mark", CutRole::mark}, {"hole", CutRole::hole}, {"outer", CutRole::outer}}};
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
};

template <>
struct Words<Rest> {
    static constexpr std::string_view option = "rest";
    static constexpr std::array<std::pair<const char*, Rest>, 3> table{
        {{"lies", Rest::lies}, {"may_tip", Rest::may_tip}, {"falls_through", Rest::falls_through}}};
};

}  // namespace planform::python
