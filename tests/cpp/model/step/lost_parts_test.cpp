/// Assemblies with damaged links: no part is ever lost, or put elsewhere, in silence.

#include <doctest/doctest.h>

#include "model/support.hpp"
#include "planform/error.hpp"
#include "planform/memory.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// A roof of two boards, and a post beside it.
std::string feeder(const TemporaryFolder& folder, bool has_color = false) {
    Assembly assembly;
    const TDF_Label root = assembly.group("feeder");
    const TDF_Label roof = assembly.group("roof");
    const TDF_Label board = assembly.part("board", box(30.0, 20.0, 4.0));
    const TDF_Label post = assembly.part("post", box(5.0, 5.0, 50.0));
    if (has_color) assembly.color(post, {0.8, 0.1, 0.2});
    assembly.place(roof, board, {}, "board left");
    assembly.place(roof, board, shifted(0.0, 40.0, 0.0), "board right");
    assembly.place(root, roof, shifted(0.0, 0.0, 50.0), "roof");
    assembly.place(root, post, shifted(10.0, 0.0, 0.0), "post");
    assembly.write(folder / "a.step");
    return read_bytes(folder / "a.step");
}

/// The whole instance of a file whose text holds `part`, the last one from the back.
std::string instance_with(const std::string& text, const std::string& part,
                          bool from_back = false) {
    const size_t at = from_back ? text.rfind(part) : text.find(part);
    REQUIRE(at != std::string::npos);
    const size_t start = text.rfind("\n#", at) + 1;
    return text.substr(start, text.find(';', at) + 1 - start);
}

/// "#12" of "#12 = ..."
std::string number_of(const std::string& instance) {
    return instance.substr(0, instance.find(' '));
}

void check_damaged(const std::string& bytes, const std::string& part) {
    try {
        load_bytes(bytes);
        FAIL("the file is read");
    } catch (const LoadError& error) {
        CHECK(error.kind() == ErrorKind::file_damaged);
        CHECK_MESSAGE(std::string(error.what()).find(part) != std::string::npos, error.what());
    }
}

}  // namespace

TEST_CASE("a part with a solid but without a place is an error that names it") {
    const TemporaryFolder folder;
    const std::string text = feeder(folder);
    REQUIRE(load_bytes(text).solids().size() == 3);
    SUBCASE("no instance places it") {
        for (const bool from_back : {false, true}) {
            const std::string place =
                instance_with(text, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(", from_back);
            check_damaged(replaced(text, place, ""), "part '");
        }
    }
    SUBCASE("its shape is not its product's") {
        const std::string product = instance_with(text, "PRODUCT('board'");
        const std::string before = text.substr(0, text.find(product));
        const std::string link = instance_with(before, "SHAPE_DEFINITION_REPRESENTATION(", true);
        check_damaged(replaced(text, link, ""), "part 'board' in 'roof'");
    }
    SUBCASE("its place is not understood") {
        const std::string move = instance_with(text, "ITEM_DEFINED_TRANSFORMATION(");
        const std::string first = move.substr(move.find("'',''") + 6);
        const std::string one = first.substr(0, first.find(','));
        const std::string wrong = number_of(instance_with(text, "PRODUCT_DEFINITION("));
        check_damaged(replaced(text, move, replaced(move, one + ",", wrong + ",")),
                      "ITEM_DEFINED_TRANSFORMATION");
    }
}

TEST_CASE("a part that the file has no shape for is noted") {
    const TemporaryFolder folder;
    Assembly assembly;
    const TDF_Label root = assembly.group("feeder");
    assembly.place(root, assembly.part("board", box(30.0, 20.0, 4.0)), {}, "board");
    assembly.write(folder / "a.step");
    std::string text = read_bytes(folder / "a.step");
    CHECK(load_bytes(text).notes().empty());
    const std::string usage = instance_with(text, "NEXT_ASSEMBLY_USAGE_OCCURRENCE(");
    const std::string whole =
        usage.substr(usage.find(",#") + 1, usage.rfind(",#") - usage.find(",#") - 1);
    const std::string formation = number_of(instance_with(text, "PRODUCT_DEFINITION_FORMATION("));
    const std::string product = instance_with(text, "= PRODUCT(");
    const std::string context =
        product.substr(product.rfind("(#"), product.rfind("))") - product.rfind("(#") + 1);
    const std::string frame = number_of(instance_with(text, "PRODUCT_DEFINITION_CONTEXT("));
    text = replaced(text, "ENDSEC;",
                    "#900001 = PRODUCT('leaflet','leaflet',''," + context +
                        ");\n#900002 = PRODUCT_DEFINITION_FORMATION('','',#900001);\n"
                        "#900003 = PRODUCT_DEFINITION('design','',#900002," +
                        frame + ");\n#900004 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('9','leaflet',''," +
                        whole + ",#900003,$);\nENDSEC;",
                    true);
    const Model model = load_bytes(text);
    CHECK(model.solids().size() == 1);
    REQUIRE(model.notes().size() == 1);
    CHECK(model.notes()[0] ==
          "part 'leaflet' in 'feeder' has no shape or no place in the file: "
          "export the assembly again");
}

TEST_CASE("an assembly that holds itself is an error that names the way round") {
    const TemporaryFolder folder;
    const std::string text = feeder(folder);
    const std::string usage = instance_with(text, "NEXT_ASSEMBLY_USAGE_OCCURRENCE(");
    const size_t first = usage.find(",#"), second = usage.rfind(",#"), end = usage.rfind(",$");
    const std::string whole = usage.substr(first, second - first);
    const std::string part = usage.substr(second, end - second);
    SUBCASE("at once") { check_damaged(replaced(text, whole + part, part + part), "' holds '"); }
    SUBCASE("through another") {
        const std::string back =
            "#900001 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('9','back',''" + part + whole + ",$);\n";
        check_damaged(replaced(text, "ENDSEC;", back + "ENDSEC;", true), "' holds '");
    }
}

TEST_CASE("a style that refers to something else gives no colour, and no harm") {
    const TemporaryFolder folder;
    const std::string text = feeder(folder, true);
    REQUIRE(load_bytes(text).solids().back().color().has_value());
    const std::string usage = instance_with(text, "SURFACE_STYLE_USAGE(");
    const std::string wrong = usage.substr(0, usage.rfind('#')) +
                              number_of(instance_with(text, "CARTESIAN_POINT(")) + ");";
    const Model model = load_bytes(replaced(text, usage, wrong));
    CHECK(model.solids().size() == 3);
    CHECK_FALSE(model.solids().back().color().has_value());
    CHECK(model.notes().size() == 1);
}
