/// Drives a fuzz target without a fuzzer: bytes from a fixed seed, so that every run of the tests
/// looks at the same inputs, with any compiler.
///
///   fixed_bytes_arrange COUNT

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <vector>

#include "random_count.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int main(int count, char** arguments) {
    constexpr std::size_t longest = 160;  // as the fuzzer's -max_len
    constexpr unsigned seed = 20261125;
    const int given = count > 1 ? std::atoi(arguments[1]) : 0;
    const int wanted = random_count(given, given);
    if (wanted <= 0) {
        std::fputs("usage: fixed_bytes_arrange COUNT\n", stderr);
        return 2;
    }
    std::mt19937 random(seed);
    for (int i = 0; i < wanted; ++i) {
        std::vector<std::uint8_t> bytes(16 + random() % (longest - 16));
        for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(random() & 0xff);
        LLVMFuzzerTestOneInput(bytes.data(), bytes.size());
    }
    std::printf("%d inputs keep the laws\n", wanted);
    return 0;
}
