#include "unfold/refusals.hpp"

#include <algorithm>

#include "plate/text.hpp"

namespace planform::unfold {

using plate::figure;

std::string face_words(const SheetBody& body, std::vector<int> faces) {
    constexpr std::size_t most = 6;
    for (int& face : faces) face = body.number(face);
    std::sort(faces.begin(), faces.end());
    faces.erase(std::unique(faces.begin(), faces.end()), faces.end());
    if (faces.size() == 1) return "face " + std::to_string(faces.front());
    std::string words = "faces ";
    for (std::size_t i = 0; i < faces.size(); ++i) {
        if (i == most)
            return words + " and " + std::to_string(faces.size() - most) + " more";
        if (i > 0) words += i + 1 == faces.size() && faces.size() <= most ? " and " : ", ";
        words += std::to_string(faces[i]);
    }
    return words;
}

Point3 place_of(const SheetBody& body, int face) {
    Box3 box;
    for (const Point3& place : body.places[static_cast<std::size_t>(face)]) box.extend(place);
    return box.isEmpty() ? Point3(Point3::Zero()) : Point3(box.center());
}

std::string place_words(const Point3& place) {
    return "(" + figure(place.x(), 3) + ", " + figure(place.y(), 3) + ", " + figure(place.z(), 3) +
           ") mm";
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
    if (!faces.empty()) refusal.place = place_of(body, faces.front());
    throw Refused{std::move(refusal)};
}

}  // namespace planform::unfold
