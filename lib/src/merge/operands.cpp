#include "merge/operands.hpp"

#include <optional>

#include "merge/loop_profiles.hpp"
#include "proof/winding_law.hpp"

namespace planform::merge {

bool in_first(const arrange::Winding& winding) { return winding[0] > 0; }
bool in_either(const arrange::Winding& winding) { return winding[0] > 0 || winding[1] > 0; }
bool in_both(const arrange::Winding& winding) { return winding[0] > 0 && winding[1] > 0; }
bool in_first_only(const arrange::Winding& winding) { return winding[0] > 0 && winding[1] <= 0; }
bool in_one_only(const arrange::Winding& winding) { return (winding[0] > 0) != (winding[1] > 0); }

void Operands::add(const Profile& profile, int operand) {
    add_contour(profile.outer(), 1, operand, profile.name());
    for (const Contour& hole : profile.holes()) add_contour(hole, 1, operand, profile.name());
}

void Operands::add_filled(const Contour& contour, int operand, std::string_view name) {
    add_contour(contour, contour.area() < 0.0 ? -1 : 1, operand, name);
}

void Operands::add_hole(const Contour& contour, int operand, std::string_view name) {
    add_contour(contour, contour.area() < 0.0 ? 1 : -1, operand, name);
}

void Operands::add_contour(const Contour& contour, int weight, int operand, std::string_view name) {
    const auto first = static_cast<int>(input_.nodes.size());
    const auto count = static_cast<int>(contour.curves().size());
    for (int i = 0; i < count; ++i) {
        const auto index = static_cast<std::size_t>(i);
        const Curve& curve = contour.curves()[index];
        input_.nodes.push_back(start_point(curve));
        input_.curves.push_back({curve, first + i, first + (i + 1) % count, weight, operand,
                                 static_cast<int>(sources_.size())});
        sources_.push_back(
            {operand, name,
             contour.provenance().empty() ? Provenance{} : contour.provenance()[index]});
    }
}

std::string Operands::name_of(const arrange::Loop& loop) const {
    for (const int operand : {0, 1}) {
        std::optional<std::string_view> common;
        bool agree = true;
        for (const int tag : loop.tags) {
            const Source& from = source(tag);
            if (from.operand != operand) continue;
            agree = agree && (!common || *common == from.name);
            common = from.name;
        }
        if (common) return agree ? std::string(*common) : std::string();
    }
    return {};
}

std::vector<Profile> Operands::arranged(const Inside& inside, double tolerance) const {
    if (empty()) return {};
    const auto proven = [&](double within) {
        arrange::Options options;
        options.tolerance = within;
        options.inside = inside;
        std::vector<Profile> profiles = profiles_of(
            arrange::arrange(input_, options),
            [this](const arrange::Loop& loop) { return name_of(loop); },
            [this](int tag) { return source(tag).provenance; });
        proof::check_winding(input_, inside, profiles, tolerance, Verify::quick);
        return profiles;
    };
    constexpr double finer = 0.25;  // of the tolerance: curves are arranged anew so finely
    try {
        return proven(tolerance);
    } catch (const proof::WindingBreach&) {
        return proven(finer * tolerance);
    }
}

}  // namespace planform::merge
