#include <algorithm>
#include <cctype>
#include <cstdint>
#include <optional>

#include "model/step/step_check.hpp"
#include "planform/error.hpp"

namespace planform::model {

namespace {

[[noreturn]] void refuse_step(const std::string& source, const std::string& why) {
    throw LoadError(ErrorKind::file_damaged,
                    source + ": the STEP data are damaged: " + why +
                        "; copy the file again, or export the model again");
}

std::string instance_name(std::uint64_t number) {
    return std::string("#").append(std::to_string(number));
}

/// Reads the clear text encoding of ISO 10303-21, clause 5 (tokens) and 6.3 (structure), as far as
/// needed to know which instances are defined and which are referred to.
class Scanner {
  public:
    Scanner(std::string_view bytes, const std::string& source) : bytes_(bytes), source_(source) {}

    void run() {
        while (position_ < bytes_.size()) {
            if (at_end_of_structure()) {
                check_references();
                return;
            }
            step();
        }
        refuse_step(source_, in_statement_ && defining_
                                 ? "the file is cut off in instance " + instance_name(*defining_)
                                 : "END-ISO-10303-21 is missing, so the file is cut off");
    }

  private:
    struct Reference {
        std::uint64_t to;
        std::uint64_t from;
        bool operator<(const Reference& other) const { return to < other.to; }
    };

    bool at_end_of_structure() const {
        return !in_statement_ && bytes_.substr(position_).starts_with("END-ISO-10303-21");
    }

    void step() {
        const char c = bytes_[position_];
        switch (c) {
            case '\'':
                skip_string();
                break;
            case '/':
                skip_comment();
                break;
            case '#':
                take_instance();
                break;
            case '(':
                ++depth_;
                ++position_;
                break;
            case ')':
                if (--depth_ < 0) refuse_step(source_, where() + " has a bracket too many");
                ++position_;
                break;
            case ';':
                end_statement();
                break;
            default:
                if (!std::isspace(static_cast<unsigned char>(c))) in_statement_ = true;
                ++position_;
        }
    }

    /// For messages: the instance or place that is being read.
    std::string where() const {
        return defining_ ? "instance " + instance_name(*defining_)
                         : "byte " + std::to_string(position_);
    }

    /// A quote inside a string is doubled, which reads as two strings side by side.
    void skip_string() {
        in_statement_ = true;
        const size_t end = bytes_.find('\'', position_ + 1);
        if (end == std::string_view::npos) refuse_step(source_, where() + " has an open string");
        position_ = end + 1;
    }

    void skip_comment() {
        if (!bytes_.substr(position_).starts_with("/*")) {
            ++position_;
            return;
        }
        const size_t end = bytes_.find("*/", position_ + 2);
        if (end == std::string_view::npos) refuse_step(source_, where() + " has an open comment");
        position_ = end + 2;
    }

    /// "#12": a definition at the start of a statement, a reference elsewhere.
    void take_instance() {
        std::uint64_t number = 0;
        size_t digits = 0;
        for (++position_; position_ < bytes_.size() && std::isdigit(byte());
             ++position_, ++digits) {
            number = number * 10 + static_cast<std::uint64_t>(bytes_[position_] - '0');
        }
        if (digits == 0 || digits > 18) {
            refuse_step(source_, where() + " has a '#' without a sensible number");
        }
        if (!in_statement_) {
            in_statement_ = true;
            defining_ = number;
            defined_.push_back(number);
        } else if (defining_) {
            referred_.push_back({number, *defining_});
            refuse_definition_inside();
        }
    }

    /// Where a piece of a file is lost, two instances run into each other:
    /// "#5=LINE('',#9=POINT...".
    void refuse_definition_inside() {
        size_t next = position_;
        while (next < bytes_.size() && std::isspace(static_cast<unsigned char>(bytes_[next])))
            ++next;
        if (next < bytes_.size() && bytes_[next] == '=') {
            refuse_step(source_, where() + " is not closed before the next one starts");
        }
    }

    void end_statement() {
        if (depth_ != 0) refuse_step(source_, where() + " has a bracket that is not closed");
        in_statement_ = false;
        defining_.reset();
        ++position_;
    }

    void check_references() {
        std::sort(defined_.begin(), defined_.end());
        const auto twice = std::adjacent_find(defined_.begin(), defined_.end());
        if (twice != defined_.end()) {
            refuse_step(source_, "instance " + instance_name(*twice) + " is defined twice");
        }
        std::sort(referred_.begin(), referred_.end());
        auto known = defined_.begin();
        for (const Reference& reference : referred_) {
            while (known != defined_.end() && *known < reference.to) ++known;
            if (known == defined_.end() || *known != reference.to) {
                refuse_step(source_, "instance " + instance_name(reference.from) + " refers to " +
                                         instance_name(reference.to) +
                                         ", which is not in the file");
            }
        }
    }

    int byte() const { return static_cast<unsigned char>(bytes_[position_]); }

    std::string_view bytes_;
    const std::string& source_;
    size_t position_ = 0;
    int depth_ = 0;
    bool in_statement_ = false;
    std::optional<std::uint64_t> defining_;
    std::vector<std::uint64_t> defined_;
    std::vector<Reference> referred_;
};

}  // namespace

void check_exchange_structure(std::string_view bytes, const std::string& source) {
    Scanner(bytes, source).run();
}

}  // namespace planform::model
