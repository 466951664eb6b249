/// The scanner of STEP files against the kernel's own: what both make of a file is written out
/// again and compared.

#include <doctest/doctest.h>

#include <STEPControl_Controller.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepSelect_WorkLibrary.hxx>
#include <XSControl_Controller.hxx>
#include <XSControl_WorkSession.hxx>
#include <sstream>

#include "model/kernel/kernel.hpp"
#include "model/read/memory_stream.hpp"
#include "model/step/step_records.hpp"
#include "model/step/step_scanner.hpp"
#include "model/support.hpp"
#include "planform/demo.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// What a library makes of the bytes, as the kernel writes it.
std::string read_and_written(const Handle(StepSelect_WorkLibrary) & library,
                             std::string_view bytes) {
    Handle(XSControl_WorkSession) session = new XSControl_WorkSession;
    REQUIRE(session->SelectNorm("STEP"));
    const Handle(Interface_Protocol) protocol = session->NormAdaptor()->Protocol();
    model::MemoryStream stream(bytes, false);
    // From 7.7 on the model has to be there.
    Handle(Interface_InterfaceModel) read = protocol->NewModel();
    REQUIRE(library->ReadStream("memory", stream, read, protocol) == 0);
    StepData_StepWriter writer(Handle(StepData_StepModel)::DownCast(read));
    writer.SendModel(Handle(StepData_Protocol)::DownCast(protocol));
    std::ostringstream text;
    REQUIRE(writer.Print(text));
    return text.str();
}

void check_same(const std::string& bytes) {
    const std::lock_guard lock(model::exchange_mutex());
    const model::Silence silence;
    STEPControl_Controller::Init();
    model::RecordScanner scanner(bytes);
    REQUIRE(scanner.run());
    const std::string theirs = read_and_written(new StepSelect_WorkLibrary, bytes);
    const std::string ours = read_and_written(new model::RecordLibrary(bytes), bytes);
    CHECK(theirs.size() > 200);
    CHECK((ours == theirs));
}

std::string file_of(const std::string& data) {
    return "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('a''b'),'2;1');\n"
           "FILE_NAME('n','2000-01-01T00:00:00',('x','y'),(''),'','','');\n"
           "FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\nDATA;\n" +
           data + "ENDSEC;\nEND-ISO-10303-21;\n";
}

}  // namespace

TEST_CASE("the demo comes out as the kernel's own scanner reads it") {
    const TemporaryFolder folder;
    write_demo_assembly(folder / "demo.step");
    check_same(read_bytes(folder / "demo.step"));
}

TEST_CASE("every kind of parameter, list and instance, and blanks and comments between them") {
    check_same(
        file_of("#1=CARTESIAN_POINT('it''s',(1.,-2.5E-3,+3.E2));\n"
                "#2 = DIRECTION ( 'two\nlines' , ( 0. , .5 , 1. ) ) ;/* a; comment('*/\n"
                "#3=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));\r\n"
                "#4=UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-7),#3,'d','');\n"
                "#5=B_SPLINE_CURVE_WITH_KNOTS('',1,(#1,#1),.UNSPECIFIED.,.F.,.F.,(2,2),(0.,1.),."
                "PIECEWISE_BEZIER_KNOTS.);\n"
                "#6=\tPRODUCT('id','name (with; signs)',$,());\n"
                "#7=B_SPLINE_SURFACE_WITH_KNOTS('',1,1,((#1,#1),(#1,#1)),.UNSPECIFIED.,.F.,.F.,.F.,"
                "(2,2),(2,2),(0.,1.),(0.,1.),"
                ".UNSPECIFIED.);\n"
                "#8=SOMETHING_UNKNOWN('x',(1,(2,(3,#1))),\"0AF\",OTHER_TYPE((.T.,$)));\n"));
}

TEST_CASE("what is not plain is left to the kernel") {
    const auto is_plain = [](const std::string& bytes) {
        return model::RecordScanner(bytes).run();
    };
    const std::string point = "#1=CARTESIAN_POINT('',(1.,2.,3.));\n";
    CHECK(is_plain(file_of(point)));
    for (const std::string odd :
         {"#1=CARTESIAN_POINT('',(1.e2,2.,3.));", "#1=CARTESIAN_POINT('',(1E2,2.,3.));",
          "#1=CARTESIAN_POINT('',(1..2,2.,3.));", "#1=CARTESIAN_POINT('',(1.,,3.));",
          "#1=CARTESIAN_POINT('',(1.,2.,3.);", "#1=CARTESIAN_POINT('',(1.,2.,3.)))",
          "#1=CARTESIAN_POINT('',(1.,2.,3.)", "#1=CARTESIAN_POINT('(1.,2.,3.));",
          "#1=&SCOPE #2=POINT(); ENDSCOPE CARTESIAN_POINT('',(1.));", "#1=;", "#=POINT();",
          "#1234567890=POINT();", "1=POINT();", "#1=POINT(BARE);", "#1=POINT(.T);",
          "#1=POINT(\"0G\");", "#1=POINT(+);", "#1=POINT(/* open);", "#1=();"}) {
        CAPTURE(odd);
        CHECK_FALSE(is_plain(file_of(odd + "\n")));
    }
    CHECK_FALSE(is_plain(file_of("")));
    CHECK_FALSE(is_plain(file_of(point + "ENDSEC;\nDATA;\n#2=POINT();\n")));
    CHECK_FALSE(is_plain(file_of(point + "#2=();\n")));
    CHECK_FALSE(is_plain(""));
    CHECK_FALSE(is_plain("ISO-10303-21;\nHEADER;\n"));
    std::string deep = "#1=POINT(" + std::string(5000, '(') + std::string(5000, ')') + ");\n";
    CHECK_FALSE(is_plain(file_of(deep)));
}
