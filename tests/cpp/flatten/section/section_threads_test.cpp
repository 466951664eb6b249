/// One stack of sections asked by many threads at once gives what one thread gets.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <atomic>
#include <cstdlib>
#include <gp_Elips.hxx>
#include <string>
#include <thread>
#include <vector>

#include "flatten/bodies.hpp"
#include "flatten/turned_bodies.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

/// Ellipses that turn on their way up: one free-form wall.
TopoDS_Shape slanted_loft() {
    BRepOffsetAPI_ThruSections sections(Standard_True, Standard_False);
    for (int i = 0; i < 5; ++i) {
        const gp_Ax2 frame(gp_Pnt(i, 0.5 * i * i, 8.0 * i), gp_Dir(0.1 * i, 0, 1),
                           gp_Dir(1, 0.3 * i, 0));
        sections.AddWire(
            BRepBuilderAPI_MakeWire(
                BRepBuilderAPI_MakeEdge(gp_Elips(frame, 10.0 + i, 6.0 - 0.5 * i)).Edge())
                .Wire());
    }
    return sections.Shape();
}

}  // namespace

TEST_CASE("eight threads on one stack get the digits of one thread") {
    const bool is_long = runs_in_full();
    const int threads = 8, rounds = is_long ? 300 : 2, offsets = 7;
    std::vector<TopoDS_Shape> shapes = {slanted_loft()};
    shapes.push_back(turned_bodies::as_splines(turned_bodies::turned(3).shape));
    shapes.push_back(turned_bodies::swept(3).shape);
    int compared = 0;
    for (const TopoDS_Shape& shape : shapes) {
        const auto solids = bodies::solids_of(shape);
        const Datum datum = bodies::tilted_datum(0.4, 0.7);
        const SectionStack stack(solids, datum);
        const Interval extent = stack.extent();
        const auto offset = [&](int i) {
            return extent.first + (i + 0.5) / offsets * (extent.last - extent.first);
        };
        std::vector<std::string> alone;
        std::vector<double> areas;
        for (int i = 0; i < offsets; ++i) {
            const ProfileSet set = SectionStack(solids, datum).at(offset(i));
            alone.push_back(set.digest());
            areas.push_back(set.area());
        }
        std::atomic<int> calls{0}, wrong{0};
        std::vector<std::thread> pool;
        for (int t = 0; t < threads; ++t)
            pool.emplace_back([&, t] {
                for (int k = 0; k < rounds * offsets; ++k) {
                    const int i = (k * 5 + t * 3) % offsets;
                    const ProfileSet set = stack.at(offset(i));
                    const auto index = static_cast<std::size_t>(i);
                    wrong += set.digest() != alone[index] || set.area() != areas[index];
                    ++calls;
                }
            });
        for (std::thread& thread : pool) thread.join();
        CHECK(calls == threads * rounds * offsets);
        CHECK(wrong == 0);
        compared += calls;
        // And afterwards it is as it was.
        for (int i = 0; i < offsets; ++i)
            CHECK(stack.at(offset(i)).area() == areas[static_cast<std::size_t>(i)]);
    }
    CHECK(compared == 3 * threads * rounds * offsets);
}
