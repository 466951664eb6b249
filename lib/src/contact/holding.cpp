#include "contact/holding.hpp"

#include <cstddef>

namespace planform::contact {
namespace {

constexpr double facing = -0.5;  // cosine of 120 degrees

void compare(const ContactPoint& a, const ContactPoint& b, Holding& first, Holding& second) {
    if (a.normal.dot(b.normal) > facing) return;
    // Normals are out of the first solid: they point at each other across the second, or away.
    const double between = (b.place - a.place).dot(a.normal);
    first.by_first |= between > 0.0;
    second.by_first |= between > 0.0;
    first.by_second |= between < 0.0;
    second.by_second |= between < 0.0;
}

}  // namespace

std::vector<Holding> holdings(std::span<const Contact> contacts) {
    std::vector<Holding> result(contacts.size());
    for (std::size_t i = 0; i < contacts.size(); ++i)
        for (std::size_t j = i; j < contacts.size(); ++j)
            for (const ContactPoint& a : contacts[i].points)
                for (const ContactPoint& b : contacts[j].points)
                    compare(a, b, result[i], result[j]);
    return result;
}

}  // namespace planform::contact
