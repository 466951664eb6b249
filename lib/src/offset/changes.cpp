#include "offset/changes.hpp"

#include <algorithm>
#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

#include "offset/plain_width.hpp"

namespace planform::offset_detail {
namespace {

/// A contour of the set: profile, contour.
using Key = std::pair<int, int>;

/// Looks for what changed, contour by contour, and where.
class Changes {
  public:
    Changes(const ProfileSet& set, const Source& source, const std::vector<MovedLoop>& loops,
            double furthest)
        : set_(set), source_(source), loops_(loops), furthest_(furthest) {}

    std::vector<Finding> run() {
        count();
        for (const Key& key : gone_) add_gone(key);
        for (const auto& [key, count] : split_) add_split(key, count);
        for (const Merged& merged : merged_) add_merged(merged);
        if (loops_.empty() && !source_.chains.empty()) {
            Finding finding =
                finding_of(RuleKind::contour_gone, set_.bounds().center(),
                           "nothing is left: the outlines are narrower than what is taken away");
            findings_.insert(findings_.begin(), std::move(finding));
        }
        return std::move(findings_);
    }

  private:
    struct Merged {
        std::vector<Key> keys;
        Point2 joint;
    };

    void count() {
        std::map<Key, int> parts;
        for (const CurvePlace& place : source_.places) parts[{place.profile, place.contour}] = 0;
        // What uniting took away was not moved.
        std::set<Key> known;
        for (const Chain& chain : source_.chains)
            for (const Element& element : chain.elements) known.insert(key_of(element.tag));
        for (const MovedLoop& moved : loops_) {
            std::set<Key> keys;
            for (const int tag : moved.loop.tags) keys.insert(key_of(tag));
            for (const Key& key : keys) ++parts[key];
            if (keys.size() > 1 && !were_one(keys)) {
                merged_.push_back({{keys.begin(), keys.end()}, joint_of(moved)});
            }
        }
        for (const auto& [key, count] : parts) {
            if (count == 0 && known.contains(key)) gone_.push_back(key);
            if (count > 1 && parts_before(key) < count) split_[key] = count;
        }
    }

    Key key_of(int tag) const {
        const CurvePlace& place = source_.places[static_cast<std::size_t>(tag)];
        return {place.profile, place.contour};
    }

    /// How many contours had curves of this one before they were moved: one, but where outlines
    /// had to be united.
    int parts_before(const Key& key) const {
        if (!source_.was_united) return 1;
        int count = 0;
        for (const Chain& chain : source_.chains)
            count += std::any_of(chain.elements.begin(), chain.elements.end(),
                                 [&](const Element& e) { return key_of(e.tag) == key; });
        return count;
    }

    bool were_one(const std::set<Key>& keys) const {
        if (!source_.was_united) return false;
        return std::any_of(source_.chains.begin(), source_.chains.end(), [&](const Chain& chain) {
            std::set<Key> own;
            for (const Element& element : chain.elements) own.insert(key_of(element.tag));
            return std::includes(own.begin(), own.end(), keys.begin(), keys.end());
        });
    }

    /// The narrowest place of some contours by themselves: between two of them, or, of one, within
    /// it. Nothing if they are too many to be measured.
    std::optional<NarrowPlace> narrowest(const std::vector<Key>& keys) {
        if (keys.size() == 1)
            if (std::optional<NarrowPlace> plain =
                    plain_width(contour_at(set_, keys.front().first, keys.front().second)))
                return plain;
        if (measured_ == most_measured) return std::nullopt;
        std::map<int, std::vector<Contour>> holes;
        std::size_t curves = 0;
        const bool one_hole = keys.size() == 1 && keys.front().second > 0;
        for (const Key& key : keys) {
            const Contour& contour = contour_at(set_, key.first, key.second);
            curves += contour.curves().size();
            std::vector<Contour>& own = holes[key.first];
            if (key.second > 0 && !one_hole) own.push_back(contour);
        }
        if (curves > most_curves) return std::nullopt;
        ++measured_;
        std::vector<Profile> profiles;
        for (const auto& [profile, own] : holes)
            profiles.emplace_back(one_hole ? contour_at(set_, profile, keys.front().second)
                                           : contour_at(set_, profile, 0),
                                  own);
        const double widest = 2.0 * furthest_ * (1.0 + 1e-9) + 1e-9;
        std::optional<NarrowPlace> best;
        for (NarrowPlace& place : narrow_places(
                 ProfileSet(std::move(profiles), {}, set_.datum(), set_.tolerance()), widest)) {
            const bool within =
                place.profile == place.other_profile && place.contour == place.other_contour;
            if (within == (keys.size() == 1) && (!best || place.width < best->width))
                best = std::move(place);
        }
        return best;
    }

    /// Where one contour of a joined one goes over into another.
    Point2 joint_of(const MovedLoop& moved) const {
        const RawLoop& loop = moved.loop;
        for (std::size_t i = 0; i + 1 < loop.curves.size(); ++i)
            if (key_of(loop.tags[i]) != key_of(loop.tags[i + 1])) return end_point(loop.curves[i]);
        return end_point(loop.curves.back());
    }

    std::string name_of(const Key& key) const {
        std::string name = key.second == 0 ? "the outer contour" : "hole ";
        if (key.second > 0) name += std::to_string(key.second);
        const std::string& own = set_.profiles()[static_cast<std::size_t>(key.first)].name();
        if (set_.profiles().size() > 1) {
            name += " of profile " + std::to_string(key.first + 1);
            if (!own.empty()) {
                name += " \"";
                name += own;
                name += '"';
            }
        }
        return name;
    }

    void add(RuleKind kind, const Key& key, const std::optional<NarrowPlace>& where,
             const Point2& otherwise, std::string text) {
        Finding finding = finding_of(kind, where ? where->center : otherwise, std::move(text));
        if (where) {
            finding.points = where->touching;
            finding.measured = where->width;
            finding.unit = "mm";
        }
        finding.profile = key.first;
        finding.contour = key.second;
        findings_.push_back(std::move(finding));
    }

    Point2 middle_of(const Key& key) const {
        return contour_at(set_, key.first, key.second).bounds().center();
    }

    static std::string before_of(const std::optional<NarrowPlace>& where) {
        return where ? ", " + millimetres(where->width) + " between them before" : std::string();
    }

    void add_gone(const Key& key) {
        const std::optional<NarrowPlace> where = narrowest({key});
        add(RuleKind::contour_gone, key, where, middle_of(key),
            "nothing is left of " + name_of(key) +
                (where ? ", " + millimetres(where->width) + " at its narrowest" : std::string()));
    }

    void add_split(const Key& key, int count) {
        const std::optional<NarrowPlace> where = narrowest({key});
        add(RuleKind::split, key, where, middle_of(key),
            name_of(key) + " falls into " + std::to_string(count) + " contours" + before_of(where));
    }

    void add_merged(const Merged& merged) {
        const std::vector<Key>& keys = merged.keys;
        const std::optional<NarrowPlace> where = narrowest(keys);
        std::string text = name_of(keys.front());
        if (keys.size() > most_named) {
            text += " and " + std::to_string(keys.size() - 1) + " others";
        } else {
            for (std::size_t i = 1; i < keys.size(); ++i) {
                text += i + 1 == keys.size() ? " and " : ", ";
                text += name_of(keys[i]);
            }
        }
        add(RuleKind::merged, keys.front(), where, merged.joint,
            text + " become one contour" + before_of(where));
    }

    /// So many findings are measured, but plain shapes, which cost nothing, and none of more
    /// curves: it costs more than moving all of the set. The others have a place only.
    static constexpr int most_measured = 16;
    static constexpr std::size_t most_curves = 500;
    static constexpr std::size_t most_named = 4;

    const ProfileSet& set_;
    const Source& source_;
    const std::vector<MovedLoop>& loops_;
    double furthest_;
    std::vector<Key> gone_;
    std::map<Key, int> split_;
    std::vector<Merged> merged_;
    std::vector<Finding> findings_;
    int measured_ = 0;
};

}  // namespace

std::vector<Finding> changes(const ProfileSet& set, const Source& source,
                             const std::vector<MovedLoop>& loops, double furthest) {
    return Changes(set, source, loops, furthest).run();
}

Finding finding_of(RuleKind kind, const Point2& place, std::string text) {
    static const RuleSet defaults;
    Finding finding;
    finding.rule = kind;
    finding.severity = defaults.rule(kind).severity;
    finding.place = place;
    finding.text = std::move(text);
    return finding;
}

Allowed with_findings(ProfileSet set, std::vector<Finding> findings) {
    const auto key = [](const Finding& finding) {
        return std::tuple(static_cast<int>(finding.rule), finding.place.x(), finding.place.y(),
                          finding.profile, finding.contour);
    };
    std::stable_sort(findings.begin(), findings.end(),
                     [&](const Finding& a, const Finding& b) { return key(a) < key(b); });
    if (findings.empty()) return {std::move(set), {}};
    std::vector<std::string> notes = set.notes();
    for (const Finding& finding : findings)
        notes.push_back(finding.text + " at " + at_place(finding.place));
    ProfileSet noted(set.profiles(), set.marks(), set.datum(), set.tolerance(), set.name(),
                     std::move(notes));
    return {std::move(noted), std::move(findings)};
}

}  // namespace planform::offset_detail
