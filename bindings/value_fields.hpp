#pragma once

/// The members of all structs that are values, in their order: see values.hpp.

#include "values.hpp"

namespace planform::python {

template <>
struct Fields<Line> {
    static constexpr std::tuple members{&Line::start, &Line::end};
};
template <>
struct Fields<Arc> {
    static constexpr std::tuple members{&Arc::center, &Arc::radius, &Arc::start_angle, &Arc::sweep};
};
template <>
struct Fields<EllipticalArc> {
    using T = EllipticalArc;
    static constexpr std::tuple members{&T::center, &T::major, &T::ratio, &T::start_angle,
                                        &T::sweep};
};
template <>
struct Fields<Spline> {
    using T = Spline;
    static constexpr std::tuple members{&T::degree, &T::knots, &T::poles, &T::weights};
};
template <>
struct Fields<Provenance> {
    using T = Provenance;
    static constexpr std::tuple members{&T::kind, &T::solid, &T::entity};
};
template <>
struct Fields<ProvenLaw> {
    using T = ProvenLaw;
    static constexpr std::tuple members{&T::name, &T::checks, &T::largest_deviation};
};
template <>
struct Fields<CurveAddress> {
    using T = CurveAddress;
    static constexpr std::tuple members{&T::profile, &T::contour, &T::curve};
};
template <>
struct Fields<CurveFit> {
    static constexpr std::tuple members{&CurveFit::at, &CurveFit::distance};
};
template <>
struct Fields<Allowance> {
    using T = Allowance;
    static constexpr std::tuple members{&T::kerf, &T::fit, &T::relief, &T::relief_style, &T::fits};
};
template <>
struct Fields<ContactPoint> {
    static constexpr std::tuple members{&ContactPoint::place, &ContactPoint::normal};
};
template <>
struct Fields<Contact> {
    using T = Contact;
    static constexpr std::tuple members{&T::solids, &T::faces, &T::area, &T::points, &T::borders};
};
template <>
struct Fields<PlacedOutline> {
    using T = PlacedOutline;
    static constexpr std::tuple members{&T::outline, &T::solids, &T::flattened};
};
template <>
struct Fields<MatingCurve> {
    using T = MatingCurve;
    static constexpr std::tuple members{&T::at, &T::is_seat, &T::share, &T::touches};
};
template <>
struct Fields<MatingOutline> {
    using T = MatingOutline;
    static constexpr std::tuple members{&T::curves, &T::joints, &T::notes};
};
template <>
struct Fields<Mating> {
    static constexpr std::tuple members{&Mating::outlines, &Mating::joints};
};
template <>
struct Fields<DoubledCurve> {
    using T = DoubledCurve;
    static constexpr std::tuple members{&T::curve, &T::other,  &T::start,
                                        &T::end,   &T::length, &T::whole};
};
template <>
struct Fields<Gap> {
    using T = Gap;
    static constexpr std::tuple members{&T::curve,   &T::other, &T::place,
                                        &T::partner, &T::width, &T::closing};
};
template <>
struct Fields<OpenChain> {
    using T = OpenChain;
    static constexpr std::tuple members{&T::curves, &T::pieces, &T::sources, &T::start,
                                        &T::end,    &T::length, &T::stray};
};
template <>
struct Fields<CrossedCurves> {
    using T = CrossedCurves;
    static constexpr std::tuple members{&T::first, &T::second, &T::place};
};
template <>
struct Fields<TinyCurve> {
    using T = TinyCurve;
    static constexpr std::tuple members{&T::curve, &T::place, &T::length};
};
template <>
struct Fields<ClosedChain> {
    using T = ClosedChain;
    static constexpr std::tuple members{&T::contour, &T::sources, &T::changed};
};
template <>
struct Fields<ClosedContours> {
    using T = ClosedContours;
    static constexpr std::tuple members{&T::chains,  &T::open, &T::gaps,
                                        &T::doubles, &T::tiny, &T::crossings};
};
template <>
struct Fields<FittedCurve> {
    using T = FittedCurve;
    static constexpr std::tuple members{&T::curve, &T::first, &T::count};
};
template <>
struct Fields<UncuttableFeature> {
    using T = UncuttableFeature;
    static constexpr std::tuple members{&T::kind,  &T::side,     &T::place,         &T::box,
                                        &T::low,   &T::high,     &T::depth,         &T::angle,
                                        &T::width, &T::diameter, &T::hole_diameter, &T::radius,
                                        &T::axis,  &T::faces,    &T::text};
};
template <>
struct Fields<StraightCut> {
    using T = StraightCut;
    static constexpr std::tuple members{&T::bottom, &T::top, &T::top_is_flat, &T::bottom_is_flat,
                                        &T::features};
};
template <>
struct Fields<NarrowPlace> {
    using T = NarrowPlace;
    static constexpr std::tuple members{&T::kind,          &T::width,        &T::center,
                                        &T::touching,      &T::profile,      &T::contour,
                                        &T::other_profile, &T::other_contour};
};
template <>
struct Fields<Rule> {
    using T = Rule;
    static constexpr std::tuple members{&T::kind, &T::enabled,     &T::severity, &T::limit,
                                        &T::unit, &T::description, &T::source};
};
template <>
struct Fields<Finding> {
    using T = Finding;
    static constexpr std::tuple members{&T::rule,     &T::severity, &T::place, &T::points,
                                        &T::measured, &T::limit,    &T::unit,  &T::profile,
                                        &T::contour,  &T::text};
};
template <>
struct Fields<Sheet> {
    using T = Sheet;
    static constexpr std::tuple members{&T::width, &T::height, &T::margin};
};
template <>
struct Fields<CurvePlace> {
    using T = CurvePlace;
    static constexpr std::tuple members{&T::profile, &T::contour, &T::curve, &T::role};
};
template <>
struct Fields<Allowed> {
    static constexpr std::tuple members{&Allowed::profiles, &Allowed::findings};
};
template <>
struct Fields<PlacedPiece> {
    using T = PlacedPiece;
    static constexpr std::tuple members{&T::name, &T::outline, &T::mass, &T::avoid};
};
template <>
struct Fields<Cut> {
    using T = Cut;
    static constexpr std::tuple members{&T::piece,    &T::profile, &T::contour,  &T::role,
                                        &T::within,   &T::room,    &T::entry,    &T::stretches,
                                        &T::over_cut, &T::exit,    &T::clearance};
};
template <>
struct Fields<PlanFinding> {
    using T = PlanFinding;
    static constexpr std::tuple members{&T::rule,        &T::severity, &T::piece,
                                        &T::other_piece, &T::cut,      &T::place,
                                        &T::measured,    &T::limit,    &T::text};
};
template <>
struct Fields<CutPlan> {
    using T = CutPlan;
    static constexpr std::tuple members{&T::cuts, &T::findings, &T::home, &T::proof};
};
template <>
struct Fields<CutTime> {
    using T = CutTime;
    static constexpr std::tuple members{&T::travel, &T::pierce, &T::cutting};
};
template <>
struct Fields<Congruence> {
    using T = Congruence;
    static constexpr std::tuple members{&T::motion, &T::mirrored, &T::deviation};
};
template <>
struct Fields<PlateInstance> {
    using T = PlateInstance;
    static constexpr std::tuple members{&T::solid, &T::islands, &T::name, &T::turned_over};
};
template <>
struct Fields<Plate> {
    using T = Plate;
    static constexpr std::tuple members{
        &T::name,         &T::thickness,     &T::datum,      &T::side,   &T::outline,
        &T::volume_share, &T::surface_share, &T::wall_share, &T::volume, &T::cut,
        &T::bends,        &T::instances,     &T::names,      &T::notes};
};
template <>
struct Fields<OtherPart> {
    using T = OtherPart;
    static constexpr std::tuple members{&T::name, &T::solids, &T::reason, &T::text};
};
template <>
struct Fields<PlateList> {
    using T = PlateList;
    static constexpr std::tuple members{&T::plates, &T::others, &T::flattened};
};
template <>
struct Fields<SideUp> {
    using T = SideUp;
    static constexpr std::tuple members{&T::datum, &T::features_up, &T::features_down, &T::text};
};
template <>
struct Fields<BendTableRow> {
    using T = BendTableRow;
    static constexpr std::tuple members{&T::thickness, &T::inside_radius, &T::angle, &T::allowance,
                                        &T::deduction};
};
template <>
struct Fields<BendRule> {
    using T = BendRule;
    static constexpr std::tuple members{&T::kind, &T::k_factor, &T::table, &T::sharp_radius};
};
template <>
struct Fields<Bend> {
    using T = Bend;
    static constexpr std::tuple members{
        &T::kind,      &T::number,    &T::angle,    &T::inside_radius, &T::half_angle, &T::up,
        &T::allowance, &T::deduction, &T::k_factor, &T::lines,         &T::limits,     &T::faces};
};
template <>
struct Fields<Blank> {
    using T = Blank;
    static constexpr std::tuple members{&T::thickness, &T::outline, &T::bends, &T::volume,
                                        &T::notes};
};
template <>
struct Fields<UnfoldRefusal> {
    using T = UnfoldRefusal;
    static constexpr std::tuple members{&T::reason, &T::text,    &T::faces,
                                        &T::place,  &T::outline, &T::overlap};
};
template <>
struct Fields<DrawingLayer> {
    using T = DrawingLayer;
    static constexpr std::tuple members{&T::name, &T::color_index, &T::rgb, &T::line_width};
};
template <>
struct Fields<Healed> {
    using T = Healed;
    static constexpr std::tuple members{&T::shapes, &T::shapes_in_full, &T::faces, &T::faces_alone};
};

}  // namespace planform::python
