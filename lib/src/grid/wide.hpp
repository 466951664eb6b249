#pragma once

/// Whole numbers of 128 bits: the compiler's own where it has some, else the same written out.

#include <compare>
#include <cstdint>

namespace planform::grid {

/// A signed number of 128 bits, two's complement, as the compiler's own one: results that need more
/// are not defined, quotients are rounded towards nought.
class WrittenWide {
  public:
    constexpr WrittenWide(std::int64_t value = 0)
        : high_(value < 0 ? ~std::uint64_t{0} : 0), low_(static_cast<std::uint64_t>(value)) {}

    /// The lower half, all there is of a number that fits.
    explicit constexpr operator std::int64_t() const { return static_cast<std::int64_t>(low_); }

    friend constexpr bool operator==(const WrittenWide&, const WrittenWide&) = default;
    friend constexpr std::strong_ordering operator<=>(const WrittenWide& a, const WrittenWide& b) {
        if (a.is_negative() != b.is_negative())
            return a.is_negative() ? std::strong_ordering::less : std::strong_ordering::greater;
        return a.high_ != b.high_ ? a.high_ <=> b.high_ : a.low_ <=> b.low_;
    }

    friend constexpr WrittenWide operator+(const WrittenWide& a, const WrittenWide& b) {
        const std::uint64_t low = a.low_ + b.low_;
        return {a.high_ + b.high_ + (low < a.low_ ? 1 : 0), low};
    }
    constexpr WrittenWide operator-() const { return WrittenWide(~high_, ~low_) + WrittenWide(1); }
    friend constexpr WrittenWide operator-(const WrittenWide& a, const WrittenWide& b) {
        return a + -b;
    }
    friend constexpr WrittenWide operator*(const WrittenWide& a, const WrittenWide& b) {
        WrittenWide product = of_product(a.low_, b.low_);
        product.high_ += a.high_ * b.low_ + a.low_ * b.high_;
        return product;
    }
    friend constexpr WrittenWide operator/(const WrittenWide& a, const WrittenWide& b) {
        const WrittenWide quotient = divided(a.magnitude(), b.magnitude(), false);
        return a.is_negative() != b.is_negative() ? -quotient : quotient;
    }
    friend constexpr WrittenWide operator%(const WrittenWide& a, const WrittenWide& b) {
        const WrittenWide rest = divided(a.magnitude(), b.magnitude(), true);
        return a.is_negative() ? -rest : rest;
    }
    constexpr WrittenWide& operator--() { return *this = *this - WrittenWide(1); }

  private:
    constexpr WrittenWide(std::uint64_t high, std::uint64_t low) : high_(high), low_(low) {}

    constexpr bool is_negative() const { return (high_ >> 63) != 0; }
    constexpr WrittenWide magnitude() const { return is_negative() ? -*this : *this; }
    constexpr WrittenWide doubled() const { return {high_ << 1 | low_ >> 63, low_ << 1}; }

    /// By halves of 32 bits, as on paper.
    static constexpr WrittenWide of_product(std::uint64_t a, std::uint64_t b) {
        constexpr std::uint64_t half = 0xFFFFFFFF;
        const std::uint64_t a0 = a & half, a1 = a >> 32, b0 = b & half, b1 = b >> 32;
        const std::uint64_t low = a0 * b0;
        const std::uint64_t middle = a1 * b0 + (low >> 32);
        const std::uint64_t other = a0 * b1 + (middle & half);
        return {a1 * b1 + (middle >> 32) + (other >> 32), other << 32 | (low & half)};
    }

    /// The quotient, or what is left over, bit by bit; neither is negative.
    static constexpr WrittenWide divided(const WrittenWide& a, const WrittenWide& b,
                                         bool wants_rest) {
        WrittenWide quotient, rest;
        for (int bit = 127; bit >= 0; --bit) {
            const std::uint64_t word = bit >= 64 ? a.high_ : a.low_;
            rest = rest.doubled();
            rest.low_ |= word >> (bit % 64) & 1;
            quotient = quotient.doubled();
            if (rest >= b) {
                rest = rest - b;
                quotient.low_ |= 1;
            }
        }
        return wants_rest ? rest : quotient;
    }

    std::uint64_t high_;
    std::uint64_t low_;
};

#ifdef __SIZEOF_INT128__
__extension__ typedef __int128 Wide;
#else
using Wide = WrittenWide;
#endif

}  // namespace planform::grid
