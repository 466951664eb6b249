#include "demo/assembly.hpp"

#include <BRep_Builder.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Compound.hxx>
#include <cmath>
#include <gp_Ax3.hxx>
#include <gp_Trsf.hxx>
#include <utility>

#include "demo/plates.hpp"

namespace planform::demo {

using namespace dimensions;

namespace {

constexpr double tray_bottom = thick + post_height;
constexpr double tray_top = tray_bottom + thick;

/// Moves a plate's own x, y and thickness direction to the given frame.
TopLoc_Location frame(const gp_Pnt& origin, const gp_Dir& x, const gp_Dir& thickness) {
    gp_Trsf movement;
    movement.SetTransformation(gp_Ax3(origin, thickness, x), gp_Ax3(gp::XOY()));
    return TopLoc_Location(movement);
}

/// Upright, seen from the front: x to the right, y up, the sheet's middle at `y`.
TopLoc_Location facing_front(double x, double y, double z, double thickness) {
    return frame({x, y + thickness / 2.0, z}, gp::DX(), gp::DY().Reversed());
}

/// Upright, seen from the right: x to the back, y up, the sheet's middle at `x`.
TopLoc_Location facing_right(double x, double z, double thickness) {
    return frame({x - thickness / 2.0, 0.0, z}, gp::DY(), gp::DX());
}

TopLoc_Location lying(double z) { return frame({0.0, 0.0, z}, gp::DX(), gp::DZ()); }

/// Puts products and their instances together.
class Builder {
  public:
    TopoDS_Shape assembly(const char* name) {
        TopoDS_Compound compound;
        builder_.MakeCompound(compound);
        station_.assemblies.push_back(compound);
        return named(name, compound);
    }

    TopoDS_Shape part(const Plate& plate) {
        station_.color_of_part[plate.name] = plate.color;
        return named(plate.name, plate.shape);
    }

    void place(TopoDS_Shape& in, const TopoDS_Shape& what, const std::string& name,
               const TopLoc_Location& where = {}) {
        const TopoDS_Shape placed = what.Moved(where);
        builder_.Add(in, placed);
        station_.instances.push_back({name, placed});
    }

    Station finish(const TopoDS_Shape& root) {
        station_.root = root;
        return std::move(station_);
    }

  private:
    TopoDS_Shape named(const std::string& name, const TopoDS_Shape& shape) {
        station_.products.push_back({name, shape});
        return shape;
    }

    BRep_Builder builder_;
    Station station_;
};

TopoDS_Shape stand(Builder& builder) {
    TopoDS_Shape stand = builder.assembly("stand");
    builder.place(stand, builder.part(base_plate()), "base plate", lying(0.0));
    const TopoDS_Shape post_part = builder.part(post());
    int number = 0;
    for (const double x : {-post_x, post_x}) {
        for (const double y : {-post_y, post_y}) {
            builder.place(stand, post_part, "post " + std::to_string(++number),
                          facing_front(x, y, thick, thick));
        }
    }
    const TopoDS_Shape brace = builder.part(cross_brace());
    const double z = thick + brace_low + brace_tab / 2.0;
    builder.place(stand, brace, "cross brace 1", facing_right(-post_x, z, thin));
    builder.place(stand, brace, "cross brace 2", facing_right(post_x, z, thin));
    return stand;
}

TopoDS_Shape tray(Builder& builder) {
    TopoDS_Shape tray = builder.assembly("tray");
    builder.place(tray, builder.part(tray_floor()), "tray floor", lying(tray_bottom));
    const TopoDS_Shape side = builder.part(tray_side());
    builder.place(tray, side, "tray side 1", facing_front(0.0, -side_y, tray_top, thin));
    builder.place(tray, side, "tray side 2", facing_front(0.0, side_y, tray_top, thin));
    const TopoDS_Shape end = builder.part(tray_end());
    builder.place(tray, end, "tray end 1", facing_right(-end_x, tray_top, thin));
    builder.place(tray, end, "tray end 2", facing_right(end_x, tray_top, thin));
    const TopoDS_Shape hook = builder.part(hanger());
    builder.place(tray, hook, "hanger 1", facing_front(-hanger_x, 0.0, tray_bottom, thin));
    builder.place(tray, hook, "hanger 2", facing_front(hanger_x, 0.0, tray_bottom, thin));
    // On the outside of the front side, readable from the front.
    builder.place(tray, builder.part(house_number()), "house number",
                  facing_front(0.0, -side_y - thin, tray_top + tray_height / 2.0, thin));
    return tray;
}

TopoDS_Shape house(Builder& builder) {
    TopoDS_Shape house = builder.assembly("house");
    const TopoDS_Shape gable_part = builder.part(gable());
    builder.place(house, gable_part, "gable 1", facing_right(-gable_x, tray_top, thick));
    builder.place(house, gable_part, "gable 2", facing_right(gable_x, tray_top, thick));

    const TopoDS_Shape panel = builder.part(roof_panel());
    const gp_Pnt ridge(0.0, 0.0, tray_top + ridge_height());
    const double rise = std::sin(roof_slope), run = std::cos(roof_slope);
    builder.place(house, panel, "roof panel 1",
                  frame(ridge, gp::DX().Reversed(), gp_Dir(0.0, -rise, run)));
    builder.place(house, panel, "roof panel 2", frame(ridge, gp::DX(), gp_Dir(0.0, rise, run)));

    const TopoDS_Shape disc = builder.part(perch_disc());
    const double outside = gable_x + (thick + thin) / 2.0, z = tray_top + entrance_height;
    builder.place(house, disc, "perch disc 1", facing_right(-outside, z, thin));
    builder.place(house, disc, "perch disc 2", facing_right(outside, z, thin));

    // Under the eaves, open to above, clear of all others.
    const TopoDS_Shape trough = builder.part(gutter());
    const double upper = tray_top + gutter_height;
    builder.place(
        house, trough, "gutter 1",
        frame({0.5 * gutter_length, -gutter_y, upper}, gp::DX().Reversed(), gp::DY().Reversed()));
    builder.place(house, trough, "gutter 2",
                  frame({-0.5 * gutter_length, gutter_y, upper}, gp::DX(), gp::DY()));
    return house;
}

}  // namespace

Station station() {
    Builder builder;
    TopoDS_Shape root = builder.assembly("bird-feeding station");
    builder.place(root, stand(builder), "stand");
    builder.place(root, tray(builder), "tray");
    builder.place(root, house(builder), "house");
    return builder.finish(root);
}

}  // namespace planform::demo
