/// The shapes of tests/data/offset_shapes.txt, judged by nearest points.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "offset/judge.hpp"
#include "planform/boolean.hpp"
#include "planform/offset.hpp"

using namespace planform;

namespace {

struct Distance {
    double value;
    int contours = -1;  ///< as many as are expected, or -1
};

struct KnownShape {
    std::string name;
    std::vector<Distance> distances;
    std::vector<Contour> contours;

    /// Counter-clockwise outside, clockwise within; what crosses or doubles itself is resolved.
    ProfileSet set() const {
        const auto turned = [](const Contour& contour, bool left) {
            return (contour.area() > 0.0) == left ? contour : contour.reversed();
        };
        std::vector<Contour> holes;
        for (std::size_t i = 1; i < contours.size(); ++i)
            holes.push_back(turned(contours[i], false));
        const Profile profile(turned(contours[0], true), holes, {}, -1, Validate::no);
        return united(ProfileSet({profile}, {}, Datum::xy(), 0.01, {}, {}, Validate::no),
                      ProfileSet());
    }
};

Contour polygon(std::istream& numbers) {
    std::vector<Point2> corners;
    for (double x, y; numbers >> x >> y;) corners.emplace_back(x, y);
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < corners.size(); ++i)
        curves.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    return Contour(std::move(curves), {}, Validate::no);
}

std::vector<KnownShape> known_shapes() {
    std::ifstream file(std::filesystem::path(PLANFORM_TEST_DATA) / "offset_shapes.txt");
    std::vector<KnownShape> all;
    for (std::string line; std::getline(file, line);) {
        std::istringstream words(line);
        std::string kind;
        words >> kind;
        if (kind == "shape") all.push_back({line.substr(kind.size() + 1), {}, {}});
        if (kind == "contour") all.back().contours.push_back(polygon(words));
        if (kind == "distance") {
            Distance distance{};
            words >> distance.value;
            if (!(words >> distance.contours)) distance.contours = -1;
            all.back().distances.push_back(distance);
        }
    }
    return all;
}

int contours_of(const ProfileSet& set) {
    int count = 0;
    for (const Profile& profile : set.profiles())
        count += 1 + static_cast<int>(profile.holes().size());
    return count;
}

}  // namespace

TEST_CASE("shapes that others had trouble with") {
    int seen = 0;
    for (const KnownShape& shape : known_shapes()) {
        CAPTURE(shape.name);
        const ProfileSet set = shape.set();
        for (const Distance& distance : shape.distances) {
            CAPTURE(distance.value);
            const ProfileSet result = offset(set, distance.value).profiles;
            const judge::Verdict verdict = judge::examine(set, distance.value, result, 4, 30);
            const double size = set.bounds().sizes().maxCoeff();
            CHECK(verdict.wrong == 0);
            CHECK(verdict.worst_exact <= 1e-9 * std::max(1.0, size / 100));
            CHECK(verdict.worst_corner <= 2e-6);
            if (distance.contours >= 0) CHECK(contours_of(result) == distance.contours);
            ++seen;
        }
    }
    CHECK(seen == 35);
}
