#pragma once

/// What a result was held against before it was handed out.

#include <string>
#include <vector>

namespace planform {

/// How much is proven of each outline. There is no way to prove nothing.
enum class Verify {
    quick,  ///< the laws that cost next to nothing
    full,   ///< those that cost as much again as the outline, too
};

/// A law that holds whatever way led to the result, and how well it was kept.
struct ProvenLaw {
    std::string name;                ///< words for people, in lower case
    long long checks = 0;            ///< how many times it was asked
    double largest_deviation = 0.0;  ///< mm; within the result's tolerance
};

/// The laws that a result was held against, each once. A result that breaks one is not handed out:
/// the call that makes it throws.
class Proof {
  public:
    const std::vector<ProvenLaw>& laws() const { return laws_; }
    bool empty() const { return laws_.empty(); }
    /// Of all laws, mm.
    double largest_deviation() const;
    /// Counts so many more checks of a law; `largest_deviation` of them in mm.
    void add(const std::string& law, long long checks, double largest_deviation);
    /// Counts all that another proof counted.
    void add(const Proof& other);

  private:
    ProvenLaw& law(const std::string& name);
    std::vector<ProvenLaw> laws_;
};

}  // namespace planform
