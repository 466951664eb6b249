#include <string>

#include "inspect/checks.hpp"

namespace planform::inspection {
namespace {

std::string quoted(const std::string& name, int profile) {
    const std::string number = "profile " + std::to_string(profile + 1);
    return name.empty() ? number : number + " (\"" + name + "\")";
}

/// Bodies of one part have its name and a number in brackets.
std::string part_of(const std::string& name) {
    const std::size_t open = name.rfind(" (");
    const bool is_numbered = open != std::string::npos && name.back() == ')' &&
                             open + 3 < name.size() &&
                             name.find_first_not_of("0123456789", open + 2) == name.size() - 1;
    return is_numbered ? name.substr(0, open) : name;
}

void check_island(const Job& job, int index, std::vector<Finding>& findings) {
    const Profile& profile = job.profiles.profiles()[static_cast<std::size_t>(index)];
    const Profile& parent = job.profiles.profiles()[static_cast<std::size_t>(profile.parent())];
    const bool other = !profile.name().empty() && !parent.name().empty() &&
                       part_of(profile.name()) != part_of(parent.name());
    const RuleKind kind = other ? RuleKind::part_in_hole : RuleKind::island;
    if (!job.applies(kind)) return;
    const std::string what = quoted(profile.name(), index);
    const std::string where = quoted(parent.name(), profile.parent());
    Finding finding =
        finding_of(job, kind, start_point(profile.outer().curves().front()),
                   other ? "Another part, " + what + ", lies in a hole of " + where +
                               ": it falls out with what is cut there. Cut it first, or hold "
                               "it by bridges."
                         : "Material lies loose in a hole, " + what + " in " + where +
                               ": hold it by bridges, or leave it out.");
    finding.profile = index;
    finding.contour = 0;
    findings.push_back(std::move(finding));
}

void check_drop_out(const Job& job, int profile, int hole, const Contour& contour,
                    std::vector<Finding>& findings) {
    const Box2 box = contour.bounds();
    const double longest = box.sizes().maxCoeff();
    const double limit = job.limit(RuleKind::drop_out);
    if (longest <= limit + at_limit) return;
    Finding finding = finding_of(job, RuleKind::drop_out, start_point(contour.curves().front()),
                                 "What falls out of " + contour_name(job, profile, hole) + " is " +
                                     number(longest) + " mm long, more than " + number(limit) +
                                     " mm, and may tip up: hold it by bridges, or take it away "
                                     "before the cut goes on.");
    finding.measured = longest;
    finding.limit = limit;
    finding.unit = "mm";
    finding.profile = profile;
    finding.contour = hole;
    findings.push_back(std::move(finding));
}

}  // namespace

void check_loose_pieces(const Job& job, std::vector<Finding>& findings) {
    for (const int index : job.profiles.islands()) check_island(job, index, findings);
    if (!job.applies(RuleKind::drop_out)) return;
    for (std::size_t i = 0; i < job.profiles.profiles().size(); ++i) {
        const std::vector<Contour>& holes = job.profiles.profiles()[i].holes();
        for (std::size_t hole = 0; hole < holes.size(); ++hole)
            check_drop_out(job, static_cast<int>(i), static_cast<int>(hole) + 1, holes[hole],
                           findings);
    }
}

}  // namespace planform::inspection
