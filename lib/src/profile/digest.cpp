/// A digest of the geometry.
///
/// Coordinates are rounded to a grid, and no grid is safe by itself: somewhere on it rounding falls
/// one way or the other by the last digit. So the set chooses the grid: of a fixed row of grids,
/// each moved by another irrational part of a step, it takes the first one on which none of its
/// numbers lies near an edge of a step. Noise changes the digest only if it carries a number over
/// the small margin on a grid that was tried; see `margin_of` for how seldom that is. (Never is
/// beyond any digest: a function without steps that tells outlines apart has none.)

#define XXH_INLINE_ALL
#include <xxhash.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "planform/profile.hpp"
#include "profile/numbers.hpp"

namespace planform {
namespace {

using detail::ContourNumbers;
using detail::CurveNumbers;
using detail::ProfileNumbers;
using detail::SetNumbers;

/// Step of the grid, mm, for sets of a size (diagonal of their bounds) of `step_size` and more;
/// smaller ones are rounded to the same share of their size, in steps of two.
constexpr double largest_step = 0.005;
constexpr double step_size = 5.0;
/// How many grids there are to choose from: on each, four of five sets find the room they need.
constexpr int grids = 64;
/// Changes whenever the same outline gets another digest than before.
constexpr std::int64_t version = 2;

using Record = std::vector<std::int64_t>;

enum Tag : std::int64_t { tag_profile = 7, tag_mark = 8 };

/// Share of a step that keeps all of `count` numbers from its edges. With so little, nineteen of
/// twenty sets fit on the first grid, and noise of e mm flips a digest with a probability of about
/// 2 count e / step: 4e-6 for ten numbers, noise of 1e-9 mm and the largest step.
double margin_of(std::size_t count) {
    constexpr double least = 1e-6;
    return std::max(least, 1.0 / (40.0 * static_cast<double>(std::max<std::size_t>(count, 1))));
}

/// One of the grids.
class Grid {
  public:
    Grid(int number, double size) {
        // Multiples of the golden section modulo 1 fill the step evenly and meet no decimal
        // fraction, inch or micrometre.
        constexpr double golden = 0.6180339887498949;
        offset_ = 0.35 + number * golden;
        offset_ -= std::floor(offset_);
        if (!(size > 0.0)) return;
        const double octave = std::log2(size / step_size) + offset_;
        level_ = std::min(0, static_cast<int>(std::floor(octave)));
        if (octave < 1.0) note_room(octave);
        step_ = std::ldexp(largest_step, level_);
    }

    std::int64_t steps(double length) {
        constexpr double largest = 9e18;
        const double place = length / step_ + offset_;
        note_room(place);
        return static_cast<std::int64_t>(std::clamp(std::floor(place), -largest, largest));
    }

    int level() const { return level_; }
    /// The least distance of all numbers so far from the edges of their steps, as a share of one.
    double room() const { return room_; }
    std::size_t count() const { return count_; }

  private:
    void note_room(double place) {
        const double share = place - std::floor(place);
        room_ = std::min({room_, share, 1.0 - share});
        ++count_;
    }

    double offset_;
    double step_ = largest_step;
    int level_ = 0;
    double room_ = 0.5;
    std::size_t count_ = 0;
};

Record curve_record(const CurveNumbers& curve, Grid& grid) {
    Record record{static_cast<std::int64_t>(curve.tag)};
    for (const double length : curve.lengths) record.push_back(grid.steps(length));
    // After the start, by which records of a contour are ordered.
    record.insert(record.begin() + 3, {curve.degree, curve.poles});
    return record;
}

/// The records in the order that starts at the smallest vertex; where a contour passes through it
/// more than once, the smallest of the sequences.
Record joined_from_smallest(const std::vector<Record>& records) {
    // Entries 1 and 2 of a record are its start.
    const auto start_before = [](const Record& a, const Record& b) {
        return std::lexicographical_compare(a.begin() + 1, a.begin() + 3, b.begin() + 1,
                                            b.begin() + 3);
    };
    const Record& smallest = *std::min_element(records.begin(), records.end(), start_before);
    Record best;
    for (std::size_t first = 0; first < records.size(); ++first) {
        if (start_before(smallest, records[first])) continue;
        Record sequence;
        for (std::size_t i = 0; i < records.size(); ++i) {
            const Record& record = records[(first + i) % records.size()];
            sequence.insert(sequence.end(), record.begin(), record.end());
        }
        if (best.empty() || sequence < best) best = std::move(sequence);
    }
    return best;
}

Record contour_record(const ContourNumbers& contour, Grid& grid) {
    std::vector<Record> records;
    for (const CurveNumbers& curve : contour) records.push_back(curve_record(curve, grid));
    Record record{static_cast<std::int64_t>(records.size())};
    const Record sequence = joined_from_smallest(records);
    record.insert(record.end(), sequence.begin(), sequence.end());
    return record;
}

/// Tag and number of records, then each with its length, in ascending order.
Record group_record(Tag tag, std::vector<Record> records) {
    std::sort(records.begin(), records.end());
    Record group{tag, static_cast<std::int64_t>(records.size())};
    for (const Record& record : records) {
        group.push_back(static_cast<std::int64_t>(record.size()));
        group.insert(group.end(), record.begin(), record.end());
    }
    return group;
}

Record profile_record(const ProfileNumbers& profile, Grid& grid) {
    std::vector<Record> holes;
    for (const ContourNumbers& hole : profile.holes) holes.push_back(contour_record(hole, grid));
    Record record = contour_record(profile.outer, grid);
    const Record inner = group_record(tag_profile, std::move(holes));
    record.insert(record.end(), inner.begin(), inner.end());
    return record;
}

Record set_record(const SetNumbers& set, int number, Grid& grid) {
    std::vector<Record> profiles;
    for (const ProfileNumbers& profile : set.profiles)
        profiles.push_back(profile_record(profile, grid));
    std::vector<Record> marks;
    for (const ContourNumbers& mark : set.marks) marks.push_back(contour_record(mark, grid));
    Record record{version, number, grid.level()};
    for (const Record& group :
         {group_record(tag_profile, std::move(profiles)), group_record(tag_mark, std::move(marks))})
        record.insert(record.end(), group.begin(), group.end());
    return record;
}

/// The record on the first grid that has room for all numbers; on the roomiest if none has.
Record chosen_record(const SetNumbers& set) {
    Record best;
    double most_room = -1.0;
    for (int number = 0; number < grids; ++number) {
        Grid grid(number, set.size);
        Record record = set_record(set, number, grid);
        if (grid.room() >= margin_of(grid.count())) return record;
        if (grid.room() <= most_room) continue;
        most_room = grid.room();
        best = std::move(record);
    }
    return best;
}

/// The integers as bytes, lowest first on every machine.
std::vector<std::uint8_t> bytes_of(const Record& record) {
    std::vector<std::uint8_t> bytes;
    bytes.reserve(8 * record.size());
    for (const std::int64_t number : record)
        for (int shift = 0; shift < 64; shift += 8)
            bytes.push_back(static_cast<std::uint8_t>(static_cast<std::uint64_t>(number) >> shift));
    return bytes;
}

std::string hexadecimal(const XXH128_hash_t& hash) {
    XXH128_canonical_t canonical_hash;
    XXH128_canonicalFromHash(&canonical_hash, hash);
    constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (const unsigned char byte : canonical_hash.digest) {
        text.push_back(digits[byte >> 4]);
        text.push_back(digits[byte & 15]);
    }
    return text;
}

}  // namespace

std::string ProfileSet::digest() const {
    const std::vector<std::uint8_t> bytes = bytes_of(chosen_record(detail::numbers_of(*this)));
    return hexadecimal(XXH3_128bits(bytes.data(), bytes.size()));
}

}  // namespace planform
