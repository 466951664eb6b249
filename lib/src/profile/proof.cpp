#include "planform/proof.hpp"

#include <algorithm>

namespace planform {

double Proof::largest_deviation() const {
    double largest = 0.0;
    for (const ProvenLaw& law : laws_) largest = std::max(largest, law.largest_deviation);
    return largest;
}

ProvenLaw& Proof::law(const std::string& name) {
    const auto found = std::find_if(laws_.begin(), laws_.end(),
                                    [&](const ProvenLaw& law) { return law.name == name; });
    return found != laws_.end() ? *found : laws_.emplace_back(ProvenLaw{name});
}

void Proof::add(const std::string& name, long long checks, double largest_deviation) {
    ProvenLaw& entry = law(name);
    entry.checks += checks;
    entry.largest_deviation = std::max(entry.largest_deviation, largest_deviation);
}

void Proof::add(const Proof& other) {
    for (const ProvenLaw& law : other.laws_) add(law.name, law.checks, law.largest_deviation);
}

}  // namespace planform
