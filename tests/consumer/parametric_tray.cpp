// A tray of any size, made by the kernel in memory and flattened by the installed library: no file
// lies between. The area of each outline is held against its closed form, and the shape that comes
// back against the one that went in.

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <GProp_GProps.hxx>
#include <cmath>
#include <iostream>
#include <numbers>
#include <planform/occt.hpp>
#include <planform/planform.hpp>
#include <string>

namespace {

/// A floor of 4 mm with four holes for the posts, mm.
TopoDS_Shape tray_floor(double width, double depth, double post) {
    TopoDS_Shape shape = BRepPrimAPI_MakeBox(width, depth, 4.0).Shape();
    for (const double x : {15.0, width - 15.0})
        for (const double y : {15.0, depth - 15.0}) {
            const gp_Ax2 axis(gp_Pnt(x, y, -1.0), gp::DZ());
            shape = BRepAlgoAPI_Cut(shape, BRepPrimAPI_MakeCylinder(axis, post / 2.0, 6.0).Shape());
        }
    return shape;
}

double volume_of(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

}  // namespace

int main(int argument_count, char** arguments) {
    if (argument_count != 2) {
        std::cerr << "usage: parametric_tray FOLDER\n";
        return 2;
    }
    const std::filesystem::path folder = arguments[1];
    try {
        std::filesystem::create_directories(folder);
        int right = 0;
        for (const double width : {120.0, 160.0, 200.0}) {
            const TopoDS_Shape shape = tray_floor(width, 90.0, 10.0);
            const planform::Model model = planform::from_shape(shape);
            const planform::Solid& tray = model.solids().front();
            const planform::ProfileSet outline =
                planform::silhouette(tray, planform::auto_datum(tray));

            const double area = width * 90.0 - 4.0 * std::numbers::pi * 25.0;
            const double volume = volume_of(planform::shape_of(tray));
            right += std::abs(outline.area() / area - 1.0) < 1e-9 &&
                     std::abs(volume / volume_of(shape) - 1.0) < 1e-9 &&
                     outline.profiles().front().holes().size() == 4;
            const auto name = "tray_" + std::to_string(static_cast<int>(width)) + ".dxf";
            planform::write_dxf(outline, folder / name);
            std::cout << name << ": " << outline.area() << " mm2\n";
        }
        return right == 3 ? 0 : 1;
    } catch (const planform::Error& error) {
        std::cerr << "parametric_tray: " << error.what() << "\n";
        return 1;
    }
}
