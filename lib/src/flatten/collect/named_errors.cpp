#include "flatten/collect/named_errors.hpp"

#include <Standard_Failure.hxx>
#include <string>

#include "planform/error.hpp"

namespace planform::flatten {

void in_face(int number, const std::function<void()>& work) {
    const auto face = [number] { return "face " + std::to_string(number) + ": "; };
    try {
        work();
    } catch (const GeometryError& error) {
        throw GeometryError(error.kind(), face() + error.what());
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            face() + "the geometry kernel failed (" +
                                std::string(failure.DynamicType()->Name()) + ")");
    }
}

void in_solid(const Solid& solid, const std::function<void()>& work) {
    const auto who = [&solid] { return "solid \"" + solid.name() + "\": "; };
    try {
        work();
    } catch (const GeometryError& error) {
        throw GeometryError(error.kind(), who() + error.what());
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            who() + "the geometry kernel failed (" +
                                std::string(failure.DynamicType()->Name()) + ")");
    }
}

}  // namespace planform::flatten
