#include <cmath>

#include "planform/query.hpp"
#include "query/cells.hpp"
#include "query/pieces.hpp"
#include "query/tree.hpp"

namespace planform {

struct OutlineIndex::Data {
    explicit Data(const ProfileSet& all) : set(all), pieces(all), cells(pieces), tree(pieces) {}

    ProfileSet set;
    query::Pieces pieces;
    query::Cells cells;
    query::Tree tree;
};

OutlineIndex::OutlineIndex(const ProfileSet& set) : data_(std::make_shared<const Data>(set)) {}

const ProfileSet& OutlineIndex::profile_set() const { return data_->set; }

bool OutlineIndex::contains(const Point2& point) const {
    return data_->cells.contains(point, data_->pieces);
}

double OutlineIndex::distance(const Point2& point) const {
    return std::sqrt(data_->tree.search(point, data_->pieces).squared());
}

NearestPlace OutlineIndex::nearest(const Point2& point) const {
    return data_->tree.search(point, data_->pieces).result();
}

}  // namespace planform
