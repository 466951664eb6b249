/// Rectangles on shelves.

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "planform/error.hpp"
#include "planform/layout.hpp"

namespace planform {
namespace {

/// Lengths that fit to rounding fit: a share of the sheet's size.
constexpr double rounding = 1e-12;

/// Shelves run along x; the next begins above the highest of its items.
struct Shelf {
    int sheet;
    double y;
    double height;
    double end;  ///< where the next item begins
};

struct Sized {
    int item;
    double width, height;
    bool turned;
};

/// Lying: no higher than wide, if it may be turned and then fits.
Sized lying(const ShelfItem& item, int index, double width, double height) {
    const bool fits_turned = item.height <= width && item.width <= height;
    const bool fits = item.width <= width && item.height <= height;
    if (item.may_turn && fits_turned && (item.height > item.width || !fits))
        return {index, item.height, item.width, true};
    return {index, item.width, item.height, false};
}

class Shelves {
  public:
    Shelves(double width, double height, double gap, int sheets)
        : width_(width), height_(height), gap_(gap), sheets_(sheets) {}

    std::vector<ShelfPlace> places;

    void place(const Sized& sized, bool may_turn) {
        if (sized.width > width_ || sized.height > height_) return;
        for (Shelf& shelf : shelves_) {
            if (put(shelf, sized.item, sized.width, sized.height, sized.turned)) return;
            if (may_turn && put(shelf, sized.item, sized.height, sized.width, !sized.turned))
                return;
        }
        if (open(sized)) put(shelves_.back(), sized.item, sized.width, sized.height, sized.turned);
    }

  private:
    bool put(Shelf& shelf, int item, double width, double height, bool turned) {
        if (height > shelf.height || shelf.end + width > width_) return false;
        places.push_back({item, shelf.sheet, shelf.end, shelf.y, turned});
        shelf.end += width + gap_;
        return true;
    }

    bool open(const Sized& sized) {
        for (std::size_t sheet = 0; sheet < used_.size(); ++sheet) {
            if (used_[sheet] + sized.height > height_) continue;
            shelves_.push_back({static_cast<int>(sheet), used_[sheet], sized.height, 0.0});
            used_[sheet] += sized.height + gap_;
            return true;
        }
        if (static_cast<int>(used_.size()) >= sheets_) return false;
        shelves_.push_back({static_cast<int>(used_.size()), 0.0, sized.height, 0.0});
        used_.push_back(sized.height + gap_);
        return true;
    }

    double width_, height_, gap_;
    int sheets_;
    std::vector<Shelf> shelves_;
    std::vector<double> used_;  ///< by sheet: where the next shelf begins
};

void need(double value, const char* what) {
    if (!std::isfinite(value) || value < 0.0)
        throw GeometryError(
            ErrorKind::invalid_argument,
            std::string("shelves: ") + what + " must be a finite number of 0 or more (mm)");
}

}  // namespace

std::vector<ShelfPlace> shelves(std::span<const ShelfItem> items, double width, double height,
                                double gap, int sheets) {
    need(width, "the width of the sheet");
    need(height, "the height of the sheet");
    need(gap, "the gap");
    const double most_width = width + rounding * width;
    const double most_height = height + rounding * height;
    std::vector<Sized> order;
    for (std::size_t i = 0; i < items.size(); ++i) {
        need(items[i].width, "the width of an item");
        need(items[i].height, "the height of an item");
        order.push_back(lying(items[i], static_cast<int>(i), most_width, most_height));
    }
    std::stable_sort(order.begin(), order.end(), [](const Sized& a, const Sized& b) {
        return a.height > b.height || (a.height == b.height && a.width > b.width);
    });
    Shelves shelves(most_width, most_height, gap, sheets);
    for (const Sized& sized : order) shelves.place(sized, items[sized.item].may_turn);
    return std::move(shelves.places);
}

}  // namespace planform
