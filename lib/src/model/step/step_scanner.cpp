#include "model/step/step_scanner.hpp"

#include <cstring>

namespace planform::model {

namespace {

constexpr int deepest_nesting = 200;  ///< lists in lists; far above any schema's

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_capital(char c) { return (c >= 'A' && c <= 'Z') || c == '_'; }

bool is_of_keyword(char c) { return is_capital(c) || is_digit(c) || (c >= 'a' && c <= 'z'); }

}  // namespace

// Each text is followed by a sign of its own (comma, bracket, equals sign), so its zero has a
// place.
RecordScanner::RecordScanner(std::string_view bytes)
    : bytes_(bytes), texts_(bytes.size() + 1, '\0') {
    parameters_.reserve(bytes.size() / 12);
    records_.reserve(bytes.size() / 40);
}

bool RecordScanner::run() {
    return word("ISO-10303-21;") && word("HEADER;") && header() && word("DATA;") && data() &&
           word("END-ISO-10303-21");
}

bool RecordScanner::header() {
    while (!word("ENDSEC;")) {
        if (!instance("#0") || !take(';')) return false;
    }
    header_ = records_.size();
    return header_ > 0;
}

bool RecordScanner::data() {
    while (!word("ENDSEC;")) {
        const char* name = reference();
        if (name == nullptr || !take('=')) return false;
        if (take('(')) {
            int parts = 0;
            for (; !take(')'); ++parts) {
                if (!instance(parts == 0 ? name : "#0")) return false;
            }
            if (parts == 0) return false;
        } else if (!instance(name)) {
            return false;
        }
        if (!take(';')) return false;
    }
    return records_.size() > header_;
}

bool RecordScanner::instance(const char* name) {
    const char* type = keyword();
    lists_ = 0;
    return type != nullptr && list(name, type);
}

bool RecordScanner::list(const char* name, const char* type) {
    if (!take('(') || ++depth_ > deepest_nesting) return false;
    const std::size_t first = open_.size();
    if (!take(')') && !parameters_of_list()) return false;
    parameters_.insert(parameters_.end(), open_.begin() + static_cast<std::ptrdiff_t>(first),
                       open_.end());
    open_.resize(first);
    records_.push_back({name, type, parameters_.size()});
    --depth_;
    return true;
}

bool RecordScanner::parameters_of_list() {
    do {
        if (!parameter()) return false;
    } while (take(','));
    return take(')');
}

bool RecordScanner::list_in_list(const char* type) {
    const char* name = name_of_list(++lists_);
    if (!list(name, type)) return false;
    open_.push_back({name, Interface_ParamSub});
    return true;
}

bool RecordScanner::parameter() {
    skip_blank();
    const char c = peek();
    const std::size_t start = position_;
    switch (c) {
        case '#': {
            const char* name = reference();
            if (name != nullptr) open_.push_back({name, Interface_ParamIdent});
            return name != nullptr;
        }
        case '\'':
            return text();
        case '$':
            ++position_;
            return add(start, Interface_ParamVoid);
        case '*':
            ++position_;
            return add(start, Interface_ParamMisc);
        case '(':
            return list_in_list("/* (SUB) */");  // as the kernel calls it
        case '"':
            return binary();
        case '.':
            return position_ + 1 < bytes_.size() && is_capital(bytes_[position_ + 1])
                       ? enumeration()
                       : number();
        default:
            break;
    }
    if (is_digit(c) || c == '-' || c == '+') return number();
    const char* type = keyword();
    return type != nullptr && list_in_list(type);
}

/// A quote inside is doubled. The kernel wants the text with its quotes.
bool RecordScanner::text() {
    const std::size_t start = position_++;
    for (;;) {
        const std::size_t quote = bytes_.find('\'', position_);
        if (quote == std::string_view::npos) return false;
        position_ = quote + 1;
        if (peek() != '\'') return add(start, Interface_ParamText);
        ++position_;
    }
}

bool RecordScanner::number() {
    const std::size_t start = position_;
    if (peek() == '-' || peek() == '+') ++position_;
    int digits = 0, points = 0;
    for (; is_digit(peek()) || peek() == '.'; ++position_) ++(peek() == '.' ? points : digits);
    if (digits == 0 || points > 1) return false;
    if (peek() == 'E') {
        ++position_;
        if (peek() == '-' || peek() == '+') ++position_;
        if (points == 0 || !is_digit(peek())) return false;
        while (is_digit(peek())) ++position_;
    }
    return add(start, points == 0 ? Interface_ParamInteger : Interface_ParamReal);
}

bool RecordScanner::enumeration() {
    const std::size_t start = position_++;
    while (is_capital(peek()) || is_digit(peek())) ++position_;
    if (peek() != '.') return false;
    ++position_;
    return add(start, Interface_ParamEnum);
}

bool RecordScanner::binary() {
    const std::size_t start = position_++;
    while (is_digit(peek()) || (peek() >= 'A' && peek() <= 'F')) ++position_;
    if (peek() != '"' || position_ == start + 1) return false;
    ++position_;
    return add(start, Interface_ParamHexa);
}

/// Null if there is none.
const char* RecordScanner::keyword() {
    skip_blank();
    const std::size_t start = position_;
    if (is_digit(peek())) return nullptr;
    if (peek() == '!') ++position_;
    while (is_of_keyword(peek())) ++position_;
    return position_ == start ? nullptr : kept(start);
}

/// "#12"; null if there is none, or a number that the kernel would not take.
const char* RecordScanner::reference() {
    skip_blank();
    if (peek() != '#') return nullptr;
    const std::size_t start = position_++;
    while (is_digit(peek())) ++position_;
    const std::size_t digits = position_ - start - 1;
    return digits == 0 || digits > 9 ? nullptr : kept(start);
}

/// Blanks, line ends and comments. A comment that does not end is left.
void RecordScanner::skip_blank() {
    while (position_ < bytes_.size()) {
        const char c = bytes_[position_];
        if (c == ' ' || c == '\n' || c == '\r' || c == '\t') {
            ++position_;
        } else if (c == '/' && bytes_.substr(position_, 2) == "/*") {
            const std::size_t end = bytes_.find("*/", position_ + 2);
            if (end == std::string_view::npos) return;
            position_ = end + 2;
        } else {
            return;
        }
    }
}

bool RecordScanner::word(std::string_view expected) {
    skip_blank();
    if (bytes_.substr(position_, expected.size()) != expected) return false;
    position_ += expected.size();
    return true;
}

bool RecordScanner::take(char c) {
    skip_blank();
    if (peek() != c) return false;
    ++position_;
    return true;
}

bool RecordScanner::add(std::size_t start, Interface_ParamType type) {
    open_.push_back({kept(start), type});
    return true;
}

const char* RecordScanner::kept(std::size_t start) {
    char* place = texts_.data() + used_;
    std::memcpy(place, bytes_.data() + start, position_ - start);
    used_ += position_ - start + 1;
    return place;
}

const char* RecordScanner::name_of_list(std::size_t number) {
    while (list_names_.size() < number) {
        list_names_.push_back(std::string("$").append(std::to_string(list_names_.size() + 1)));
    }
    return list_names_[number - 1].c_str();
}

}  // namespace planform::model
