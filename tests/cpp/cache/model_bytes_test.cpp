#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "planform/planform.hpp"

using namespace planform;

namespace {

/// The demo in a file of this test's own.
Model demo(const char* name) {
    const std::filesystem::path path = std::filesystem::temp_directory_path() / name;
    write_demo_assembly(path);
    const Model model = load(path);
    std::filesystem::remove(path);
    return model;
}

}  // namespace

TEST_CASE("a model comes out of its bytes equal to what went in") {
    const Model model = demo("planform_model_bytes_1.step");
    const std::string bytes = model_bytes(model);
    const Model again = model_from_bytes(bytes);
    CHECK(again == model);
    CHECK(again.source() == model.source());
    CHECK(model_bytes(again).size() == bytes.size());
    // Once more: the digests of the shapes travel, so that rounding in the format adds no
    // difference.
    CHECK(model_from_bytes(model_bytes(again)) == model);
    for (std::size_t i = 0; i < model.solids().size(); ++i)
        CHECK(again.solids()[i].volume() == doctest::Approx(model.solids()[i].volume()));
}

TEST_CASE("solids are equal across two readings of a file, and differ within one") {
    const Model first = demo("planform_model_bytes_2.step");
    const Model second = demo("planform_model_bytes_2.step");
    CHECK(first == second);
    int different = 0;
    for (std::size_t i = 0; i < first.solids().size(); ++i)
        for (std::size_t j = 0; j < first.solids().size(); ++j) {
            CHECK((first.solids()[i] == second.solids()[j]) == (i == j));
            CHECK((first.solids()[i] == first.solids()[j]) == (i == j));
            different += i != j;
        }
    CHECK(different > 50);
}

TEST_CASE("a body that is there twice in one place is two") {
    const Model model = demo("planform_model_bytes_3.step");
    const std::string brep = brep_bytes(model.solids().front());
    const Model one = from_brep(brep);
    CHECK(one.solids().front() == from_brep(brep).solids().front());
    Solid copy = one.solids().front();
    CHECK(copy == one.solids().front());
}

TEST_CASE("bytes that are damaged, cut off or another build's are refused") {
    const std::string bytes = model_bytes(demo("planform_model_bytes_4.step"));
    std::string changed = bytes;
    changed[bytes.size() / 2] ^= 1;
    for (const std::string& wrong :
         {changed, bytes.substr(0, bytes.size() - 1), bytes.substr(0, 40), std::string(),
          "planform 0.0.0 model\n" + bytes.substr(bytes.find('\n') + 1)}) {
        try {
            model_from_bytes(wrong);
            FAIL("taken");
        } catch (const LoadError& error) {
            CHECK(error.kind() == ErrorKind::file_damaged);
        }
    }
}

TEST_CASE("a file's bytes give the file's model") {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() / "planform_model_bytes_5.step";
    write_demo_assembly(path);
    std::ifstream stream(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(stream), {}};
    const Model model = load_bytes(bytes);
    CHECK(model.source() == "memory");
    CHECK(model.solids() == load(path).solids());
    std::filesystem::remove(path);
    CHECK_THROWS_AS(load_bytes(""), LoadError);
    CHECK_THROWS_AS(load_bytes("no model"), LoadError);
}
