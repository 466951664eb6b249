#include <doctest/doctest.h>

#include "model/read/content.hpp"
#include "model/support.hpp"

using namespace planform;
using namespace planform::test;

TEST_CASE("gzip-compressed files read like plain ones, whatever their suffix") {
    const TemporaryFolder folder;
    write_step(box(1.0, 2.0, 3.0), folder / "a.step");
    const std::string packed = gzip(read_bytes(folder / "a.step"));
    for (const std::string name : {"a.stpz", "a.stp.gz", "a.step.gz", "a"}) {
        write_bytes(folder / name, packed);
        const Model model = load(folder / name);
        REQUIRE(model.solids().size() == 1);
        CHECK(model.solids()[0].volume() == doctest::Approx(6.0).epsilon(1e-9));
        CHECK(model.solids()[0].name() == "part");
    }
    write_bytes(folder / "b.brep.gz", gzip(brep_text(box(2.0, 2.0, 2.0))));
    CHECK(load(folder / "b.brep.gz").solids()[0].volume() == doctest::Approx(8.0).epsilon(1e-12));
}

TEST_CASE("unpacking gives the bytes that were packed, in one member or several") {
    std::string bytes;
    for (int i = 0; i < 700000; ++i) bytes += static_cast<char>(i * 2654435761u >> 24);
    CHECK(model::unpack_gzip(gzip(bytes), "x", bytes.size()) == bytes);
    CHECK(model::unpack_gzip(gzip(bytes) + gzip("tail"), "x", 1 << 20) == bytes + "tail");
    CHECK(model::unpack_gzip(gzip(bytes) + std::string(512, '\0'), "x", 1 << 20) == bytes);
    CHECK(model::unpack_gzip(gzip(""), "x", 10) == "");
}

TEST_CASE("truncated, damaged and exploding gzip data are errors of their own") {
    const TemporaryFolder folder;
    write_step(box(1.0, 2.0, 3.0), folder / "a.step");
    const std::string packed = gzip(read_bytes(folder / "a.step"));
    const auto message_of = [&](const std::string& bytes) {
        write_bytes(folder / "b.stpz", bytes);
        const auto error = load_error(folder / "b.stpz");
        REQUIRE(error.has_value());
        CHECK(error->kind() == ErrorKind::file_damaged);
        return std::string(error->what());
    };
    for (const size_t length :
         {size_t{2}, size_t{9}, size_t{200}, packed.size() / 2, packed.size() - 1}) {
        CAPTURE(length);
        CHECK(message_of(packed.substr(0, length)).find("truncated") != std::string::npos);
    }
    std::string broken = packed;
    for (size_t i = 500; i < 520; ++i) broken[i] = static_cast<char>(~broken[i]);
    CHECK(message_of(broken).find("damaged") != std::string::npos);

    const std::string bomb = gzip(std::string(10 << 20, 'a'));
    CHECK(bomb.size() < 20000);
    try {
        model::unpack_gzip(bomb, "bomb", 1 << 20);
        FAIL("ten megabytes passed a limit of one");
    } catch (const LoadError& error) {
        CHECK(std::string(error.what()).find("more than 1048576 bytes") != std::string::npos);
    }

    write_bytes(folder / "text.gz", gzip("just a letter"));
    CHECK(load_error(folder / "text.gz")->kind() == ErrorKind::file_not_recognised);
    write_bytes(folder / "twice.gz", gzip(packed));
    CHECK(load_error(folder / "twice.gz")->kind() == ErrorKind::file_not_recognised);
}
