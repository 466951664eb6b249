#include "arrange/corpus.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <variant>

#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

class Reader {
  public:
    explicit Reader(std::istream& text) : text_(text) {}

    std::vector<CorpusCase> read() {
        std::string line;
        while (std::getline(text_, line)) {
            ++number_;
            if (!line.empty()) take(line);
        }
        if (in_case_) fail("the last case has no end");
        return std::move(cases_);
    }

  private:
    [[noreturn]] void fail(const std::string& what) const {
        throw std::runtime_error("corpus line " + std::to_string(number_) + ": " + what);
    }

    void take(const std::string& line) {
        if (line[0] == '#') {
            why_ += line.substr(line.size() > 1 ? 2 : 1);
            return;
        }
        std::istringstream words(line);
        std::string word;
        words >> word;
        if (word == "case") {
            if (why_.empty()) fail("a case without a reason");
            cases_.push_back({"", why_, {}});
            words >> cases_.back().name;
            why_.clear();
            shapes_ = Shapes();
            in_case_ = true;
        } else if (word == "chain") {
            flush();
            words >> operand_ >> weight_;
        } else if (word == "end") {
            flush();
            cases_.back().input = shapes_.input();
            in_case_ = false;
        } else {
            curves_.push_back(curve(word, words));
        }
        if (!words) fail("too few numbers");
    }

    void flush() {
        if (!curves_.empty()) shapes_.chain(curves_, operand_, weight_);
        curves_.clear();
    }

    Curve curve(const std::string& word, std::istream& words) const {
        const auto number = [&] {
            double value = 0.0;
            words >> value;
            return value;
        };
        const auto point = [&] {
            const double x = number();
            return Point2(x, number());
        };
        if (word == "line") {
            const Point2 start = point();
            return Line{start, point()};
        }
        if (word == "arc") {
            Arc arc{point(), 0.0, 0.0, 0.0};
            words >> arc.radius >> arc.start_angle >> arc.sweep;
            return arc;
        }
        if (word == "ellipse") {
            EllipticalArc arc{point(), Vector2::Zero(), 0.0, 0.0, 0.0};
            arc.major = point();
            words >> arc.ratio >> arc.start_angle >> arc.sweep;
            return arc;
        }
        if (word != "spline") fail("unknown word " + word);
        Spline spline;
        std::size_t poles = 0;
        words >> spline.degree >> poles;
        for (std::size_t i = 0; i < poles && words; ++i) spline.poles.push_back(point());
        for (std::size_t i = 0; i < poles + static_cast<std::size_t>(spline.degree) + 1 && words;
             ++i)
            spline.knots.push_back(number());
        return spline;
    }

    std::istream& text_;
    int number_ = 0;
    std::string why_;
    Shapes shapes_;
    std::vector<Curve> curves_;
    int operand_ = 0;
    int weight_ = 1;
    bool in_case_ = false;
    std::vector<CorpusCase> cases_;
};

void write(std::ostream& out, const Curve& curve) {
    if (const auto* line = std::get_if<Line>(&curve)) {
        out << "line " << line->start.transpose() << ' ' << line->end.transpose();
    } else if (const auto* arc = std::get_if<Arc>(&curve)) {
        out << "arc " << arc->center.transpose() << ' ' << arc->radius << ' ' << arc->start_angle
            << ' ' << arc->sweep;
    } else if (const auto* ellipse = std::get_if<EllipticalArc>(&curve)) {
        out << "ellipse " << ellipse->center.transpose() << ' ' << ellipse->major.transpose() << ' '
            << ellipse->ratio << ' ' << ellipse->start_angle << ' ' << ellipse->sweep;
    } else {
        const auto& spline = std::get<Spline>(curve);
        out << "spline " << spline.degree << ' ' << spline.poles.size();
        for (const Point2& pole : spline.poles) out << ' ' << pole.transpose();
        for (const double knot : spline.knots) out << ' ' << knot;
    }
    out << '\n';
}

}  // namespace

std::vector<CorpusCase> read_corpus(std::istream& text) { return Reader(text).read(); }

std::vector<CorpusCase> read_corpus_file() {
    std::ifstream file(PLANFORM_TEST_DATA "/arrange_corpus.txt");
    std::vector<CorpusCase> cases = read_corpus(file);
    if (cases.empty())
        throw std::runtime_error("the corpus of the arrangement is empty or missing");
    return cases;
}

std::string corpus_entry(const std::string& name, const std::string& why, const Input& input) {
    std::ostringstream out;
    out.precision(17);
    out << "# " << why << "\ncase " << name << '\n';
    int next_start = -1, chain_start = -1;
    for (const DirectedCurve& c : input.curves) {
        if (c.start_node != next_start || c.start_node == chain_start) {
            out << "chain " << c.operand << ' ' << c.weight << '\n';
            chain_start = c.start_node;
        }
        write(out, c.curve);
        next_start = c.end_node;
    }
    out << "end\n";
    return out.str();
}

}  // namespace planform::arrange::test
