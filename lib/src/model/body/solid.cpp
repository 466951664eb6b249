#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <set>
#include <utility>

#include "model/body/solid_data.hpp"
#include "model/measure/bounds.hpp"
#include "model/measure/measure.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {

namespace {

int count_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape map;
    TopExp::MapShapes(shape, kind, map);
    return map.Extent();
}

}  // namespace

Solid::Solid(std::shared_ptr<const model::SolidData> data) : data_(std::move(data)) {
    if (!data_) throw GeometryError(ErrorKind::invalid_argument, "a solid needs data, not nothing");
}

const std::string& Solid::name() const { return data_->name; }
const std::vector<std::string>& Solid::path() const { return data_->path; }
std::optional<Color> Solid::color() const { return data_->color; }
const std::vector<std::string>& Solid::layers() const { return data_->layers; }
const Transform3& Solid::placement() const { return data_->placement; }
int Solid::shape_index() const { return data_->shape_index; }
int Solid::part() const { return data_->part; }
const std::string& Solid::part_name() const { return data_->part_name; }
const std::vector<std::string>& Solid::notes() const { return data_->notes; }

// The distinct shape is measured where it was drawn: nearer to the origin, so with less rounding.
double Solid::volume() const { return data_->mass->volume(data_->shape.Located({})); }
double Solid::surface_area() const { return data_->mass->surface_area(data_->shape.Located({})); }

Box3 Solid::bounds() const {
    std::call_once(data_->bounds_once, [&] {
        data_->bounds = model::measured("box", [&] { return model::tight_box(data_->shape); });
    });
    return data_->bounds;
}

int Solid::face_count() const { return count_of(data_->shape, TopAbs_FACE); }
int Solid::edge_count() const { return count_of(data_->shape, TopAbs_EDGE); }

Model::Model(std::vector<Solid> solids, std::string unit, std::string source,
             std::vector<std::string> notes, const Healed& healed)
    : solids_(std::move(solids)),
      unit_(std::move(unit)),
      source_(std::move(source)),
      notes_(std::move(notes)),
      healed_(healed) {}

int Model::shape_count() const {
    std::set<int> distinct;
    for (const Solid& solid : solids_) distinct.insert(solid.shape_index());
    return static_cast<int>(distinct.size());
}

const TopoDS_Shape& shape_of(const Solid& solid) { return solid.data().shape; }

}  // namespace planform
