#include "unfold/refusals.hpp"

#include <algorithm>
#include <sstream>

#include "error/figures.hpp"

namespace planform::unfolding {

using words::figure;

std::string face_words(const SheetBody& body, std::vector<int> faces) {
    constexpr std::size_t most = 6;
    for (int& face : faces) face = body.number(face);
    std::sort(faces.begin(), faces.end());
    faces.erase(std::unique(faces.begin(), faces.end()), faces.end());
    // Faces that were put in for what is drawn have no number there.
    if (!faces.empty() && faces.front() == 0) faces.erase(faces.begin());
    if (faces.empty()) return "a bend";
    std::ostringstream words;
    words << (faces.size() == 1 ? "face " : "faces ");
    for (std::size_t i = 0; i < faces.size(); ++i) {
        if (i == most) {
            words << " and " << faces.size() - most << " more";
            break;
        }
        if (i > 0) words << (i + 1 == faces.size() && faces.size() <= most ? " and " : ", ");
        words << faces[i];
    }
    return words.str();
}

Point3 place_of(const SheetBody& body, int face) {
    Box3 box;
    for (const Point3& place : body.places[static_cast<std::size_t>(face)]) box.extend(place);
    return box.isEmpty() ? Point3(Point3::Zero()) : Point3(box.center());
}

std::string place_words(const Point3& place) {
    std::ostringstream words;
    words << "(" << figure(place.x(), 3) << ", " << figure(place.y(), 3) << ", "
          << figure(place.z(), 3) << ") mm";
    return words.str();
}

void refuse(NotUnfolded reason, const std::string& text, const SheetBody& body,
            const std::vector<int>& faces) {
    UnfoldRefusal refusal;
    refusal.reason = reason;
    refusal.text = text;
    for (const int face : faces) refusal.faces.push_back(body.number(face));
    std::sort(refusal.faces.begin(), refusal.faces.end());
    refusal.faces.erase(std::unique(refusal.faces.begin(), refusal.faces.end()),
                        refusal.faces.end());
    if (!refusal.faces.empty() && refusal.faces.front() == 0)
        refusal.faces.erase(refusal.faces.begin());
    if (!faces.empty()) refusal.place = place_of(body, faces.front());
    throw Refused{std::move(refusal)};
}

}  // namespace planform::unfolding
