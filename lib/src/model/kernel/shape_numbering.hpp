#pragma once

/// Numbers for the distinct entities of a shape.

#include <TopLoc_Location.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_TShape.hxx>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace planform::model {

/// Numbers distinct shapes from 0 on in the order of their first appearance; orientation does not
/// count (the kernel's IsSame). The kernel's own indexed maps do the same at several times the
/// cost: they hold each shape in a node of its own, and count its uses. Here the shapes must
/// outlive the numbering.
class ShapeNumbering {
  public:
    /// The number of the shape, and whether it is new.
    std::pair<int, bool> number(const TopoDS_Shape& shape) {
        if (2 * entries_.size() >= heads_.size()) grow();
        const TopoDS_TShape* key = shape.TShape().get();
        std::size_t place = hash(key);
        for (; heads_[place] >= 0; place = (place + 1) & (heads_.size() - 1)) {
            const Entry& entry = entries_[static_cast<std::size_t>(heads_[place])];
            if (entry.key == key && entry.location == shape.Location())
                return {heads_[place], false};
        }
        heads_[place] = static_cast<int>(entries_.size());
        entries_.push_back({key, shape.Location()});
        return {heads_[place], true};
    }

  private:
    struct Entry {
        const TopoDS_TShape* key;
        TopLoc_Location location;
    };

    std::size_t hash(const TopoDS_TShape* key) const {
        // Fibonacci hashing (D. Knuth, The Art of Computer Programming 3, 6.4); addresses are
        // multiples of 16.
        const auto bits = static_cast<std::uint64_t>(reinterpret_cast<std::uintptr_t>(key)) >> 4;
        return static_cast<std::size_t>((bits * 0x9e3779b97f4a7c15ULL) >> 20) & (heads_.size() - 1);
    }

    void grow() {
        heads_.assign(heads_.empty() ? 64 : 4 * heads_.size(), -1);
        for (std::size_t i = 0; i < entries_.size(); ++i) {
            std::size_t place = hash(entries_[i].key);
            while (heads_[place] >= 0) place = (place + 1) & (heads_.size() - 1);
            heads_[place] = static_cast<int>(i);
        }
    }

    std::vector<Entry> entries_;
    std::vector<int> heads_;  ///< open addressing; a power of two, at most half full; -1: free
};

}  // namespace planform::model
