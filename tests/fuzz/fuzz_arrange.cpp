/// Fuzzes the arrangement: bytes become chains on a coarse lattice with tiny perturbations; the
/// oracle is that the laws of areas hold and the loops are closed and simple. Input that begins
/// with '#' is read as text of the corpus, so that tests/data/arrange_corpus.txt can be split into
/// seeds.
///
/// Build with clang and -DPLANFORM_FUZZ=ON; run: fuzz_arrange -max_len=160 FOLDER_OF_SEEDS

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <sstream>
#include <string>

#include "arrange/corpus.hpp"
#include "arrange/laws.hpp"
#include "arrange/shapes.hpp"

namespace {

using namespace planform;
using namespace planform::arrange;
using namespace planform::arrange::test;

class Bytes {
  public:
    Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}

    bool empty() const { return left_ == 0; }
    int next() {
        if (left_ == 0) return 0;
        --left_;
        return *data_++;
    }
    /// On the lattice of 16 mm, moved by nothing or by up to a tenth of a millimetre.
    double coordinate() {
        static constexpr double moves[] = {0,    0,    0,    0,    1e-9, 1e-8, 1e-7, 1e-6,
                                           1e-5, 3e-5, 1e-4, 1e-3, 1e-2, 1e-1, 0.25, 0.5};
        const int place = next(), move = next();
        return place % 16 + (move & 16 ? -1 : 1) * moves[move % 16];
    }
    Point2 point() {
        const double x = coordinate();
        return {x, coordinate()};
    }
    double size() { return 0.5 + std::abs(coordinate()) / 2; }
    double angle() { return next() % 24 * pi / 12; }

  private:
    const std::uint8_t* data_;
    std::size_t left_;
};

void add_chain(Bytes& bytes, Shapes& shapes) {
    const int kind = bytes.next();
    const int operand = kind & 64 ? 1 : 0, weight = kind & 128 ? -1 : 1;
    switch (kind % 6) {
        case 0: {
            std::vector<Point2> corners;
            const int count = 3 + bytes.next() % 4;
            while (static_cast<int>(corners.size()) < count) corners.push_back(bytes.point());
            shapes.polygon(corners, operand, weight);
            return;
        }
        case 1: {
            const Point2 center = bytes.point();
            const double radius = bytes.size();
            shapes.circle(center, radius, operand, weight, bytes.angle());
            return;
        }
        case 2: {
            const Point2 center = bytes.point();
            const double size = bytes.size(), angle = bytes.angle();
            shapes.ellipse(center, size * Vector2(std::cos(angle), std::sin(angle)),
                           (1 + bytes.next() % 7) / 8.0, operand, weight);
            return;
        }
        case 3: {
            // A slot: lines with tangent arcs.
            const Point2 a = bytes.point();
            const double r = bytes.size(), l = bytes.size();
            shapes.chain({Line{a + Vector2(0, -r), a + Vector2(l, -r)},
                          Arc{a + Vector2(l, 0), r, -pi / 2, pi},
                          Line{a + Vector2(l, r), a + Vector2(0, r)}, Arc{a, r, pi / 2, pi}},
                         operand, weight);
            return;
        }
        case 4: {
            const Point2 a = bytes.point(), b = bytes.point(), c = bytes.point(), d = bytes.point();
            shapes.chain({Line{a, d}, cubic(d, c, b, a)}, operand, weight);
            return;
        }
        default: {
            std::vector<Point2> poles;
            for (int i = 0; i < 5; ++i) poles.push_back(bytes.point());
            poles.push_back(poles.front());
            shapes.chain({cubic_spline(poles)}, operand, weight);
        }
    }
}

bool is_reasonable(const Input& input) {
    try {
        for (const DirectedCurve& c : input.curves) {
            check_curve(c.curve);
            const Box2 box = bounds(c.curve);
            if (!(box.min().cwiseAbs().maxCoeff() < 100.0 &&
                  box.max().cwiseAbs().maxCoeff() < 100.0))
                return false;
        }
    } catch (const std::exception&) {
        return false;
    }
    return !input.curves.empty() && input.curves.size() < 40;
}

Input decoded(const std::uint8_t* data, std::size_t size) {
    if (size > 0 && data[0] == '#') {
        try {
            std::istringstream text(std::string(reinterpret_cast<const char*>(data), size));
            const std::vector<CorpusCase> cases = read_corpus(text);
            return cases.empty() ? Input{} : cases.front().input;
        } catch (const std::exception&) {
            return {};
        }
    }
    Bytes bytes(data, size);
    Shapes shapes;
    for (int i = 0; i < 5 && !bytes.empty(); ++i) add_chain(bytes, shapes);
    return shapes.input();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const Input input = decoded(data, size);
    if (!is_reasonable(input)) return 0;
    const std::string broken = broken_law(input, false);
    if (broken.empty()) return 0;
    std::fputs(corpus_entry("fuzzed", broken, input).c_str(), stderr);
    std::abort();
}
