#include "inspect/gauges.hpp"

#include <cmath>
#include <cstdlib>
#include <iterator>
#include <numeric>

#include "inspect/checks.hpp"

namespace planform::inspection {
namespace {

/// Sheet and plate as the metric trade lists it, mm; from memory.
constexpr double metric[] = {
    0.3,  0.35, 0.4,  0.5,  0.55, 0.6,  0.63, 0.7,  0.75, 0.8,  0.88, 0.9,  1.0,  1.2,  1.25, 1.5,
    1.6,  1.75, 1.8,  2.0,  2.5,  3.0,  3.2,  3.5,  4.0,  4.5,  5.0,  6.0,  7.0,  8.0,  9.0,  10.0,
    11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 18.0, 19.0, 20.0, 21.0, 22.0, 24.0, 25.0, 28.0, 30.0, 32.0,
    35.0, 38.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0, 90.0, 100.0};

/// Inches of gauge numbers 7 to 28 of uncoated steel sheet in the United States; from memory.
constexpr int first_gauge = 7;
constexpr double gauges[] = {0.1793, 0.1644, 0.1495, 0.1345, 0.1196, 0.1046, 0.0897, 0.0747,
                             0.0673, 0.0598, 0.0538, 0.0478, 0.0418, 0.0359, 0.0329, 0.0299,
                             0.0269, 0.0239, 0.0209, 0.0179, 0.0164, 0.0149};

bool near(double a, double b, double tolerance) { return std::abs(a - b) <= tolerance; }

/// Plate by 32nds up to 3/8, by 16ths up to an inch, by eighths up to four.
std::optional<std::string> fraction_of_inch(double thickness, double tolerance) {
    const double inches = thickness / millimetres_per_inch;
    const int parts = inches <= 0.376 ? 32 : inches <= 1.001 ? 16 : 8;
    const int count = static_cast<int>(std::lround(inches * parts));
    if (count < 1 || inches > 4.001) return std::nullopt;
    if (!near(thickness, count * millimetres_per_inch / parts, tolerance)) return std::nullopt;
    const int common = std::gcd(count, parts);
    std::string words = std::to_string(count / common);
    if (common < parts) words.append("/").append(std::to_string(parts / common));
    return words.append(" inch");
}

}  // namespace

std::optional<std::string> usual_thickness(double thickness, double tolerance) {
    for (const double usual : metric)
        if (near(thickness, usual, tolerance)) return number(usual) + " mm";
    if (auto fraction = fraction_of_inch(thickness, tolerance)) return fraction;
    for (std::size_t i = 0; i < std::size(gauges); ++i)
        if (near(thickness, gauges[i] * millimetres_per_inch, tolerance))
            return "gauge " + std::to_string(first_gauge + static_cast<int>(i)) + " (" +
                   number(gauges[i] * millimetres_per_inch) + " mm)";
    return std::nullopt;
}

}  // namespace planform::inspection
