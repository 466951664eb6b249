#include "planform/plan.hpp"

namespace planform {
namespace {

double length_of(const std::vector<Curve>& way) {
    double sum = 0.0;
    for (const Curve& curve : way) sum += length(curve);
    return sum;
}

}  // namespace

Point2 Cut::pierce() const { return entry.empty() ? start() : start_point(entry.front()); }

Point2 Cut::start() const { return start_point(stretches.front().front()); }

Point2 Cut::end() const {
    if (!exit.empty()) return end_point(exit.back());
    if (!over_cut.empty()) return end_point(over_cut.back());
    return end_point(stretches.back().back());
}

int Cut::pierces() const { return role == CutRole::mark ? 0 : static_cast<int>(stretches.size()); }

double Cut::length() const {
    double sum = length_of(entry) + length_of(over_cut) + length_of(exit);
    for (const auto& stretch : stretches) sum += length_of(stretch);
    return sum;
}

double CutPlan::travel() const {
    double sum = 0.0;
    Point2 at = home;
    for (const Cut& cut : cuts) {
        sum += (cut.pierce() - at).norm();
        for (std::size_t i = 1; i < cut.stretches.size(); ++i)
            sum += (start_point(cut.stretches[i].front()) - end_point(cut.stretches[i - 1].back()))
                       .norm();
        at = cut.end();
    }
    return sum;
}

double CutPlan::cut_length() const {
    double sum = 0.0;
    for (const Cut& cut : cuts)
        if (cut.role != CutRole::mark) sum += cut.length();
    return sum;
}

double CutPlan::mark_length() const {
    double sum = 0.0;
    for (const Cut& cut : cuts)
        if (cut.role == CutRole::mark) sum += cut.length();
    return sum;
}

int CutPlan::pierces() const {
    int sum = 0;
    for (const Cut& cut : cuts) sum += cut.pierces();
    return sum;
}

}  // namespace planform
