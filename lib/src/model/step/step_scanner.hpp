#pragma once

/// Clear text of ISO 10303-21 cut into records: instances and the lists in them.

#include <Interface_ParamType.hxx>
#include <cstddef>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

namespace planform::model {

/// One parameter of a record.
struct RecordParameter {
    const char* text;
    Interface_ParamType type;
};

/// An instance, one part of an instance of several types, or a list in it.
struct FileRecord {
    const char* name;  ///< "#12"; "#0": no number of its own; "$2": second list of its instance
    const char* type;  ///< keyword; what the kernel takes for a list without one
    std::size_t end;   ///< where its parameters end among all; they start where those before end
};

/// All records in the order in which they close. Texts live as long as this.
class RecordScanner {
  public:
    explicit RecordScanner(std::string_view bytes);

    /// False if there is anything but one header and one section of data, in plain syntax (clause 5
    /// to 7): then nothing here is to be used.
    bool run();

    std::size_t header_records() const { return header_; }
    const std::vector<FileRecord>& records() const { return records_; }
    const std::vector<RecordParameter>& parameters() const { return parameters_; }

  private:
    bool header();
    bool data();
    bool instance(const char* name);
    bool list(const char* name, const char* type);
    bool list_in_list(const char* type);
    bool parameters_of_list();
    bool parameter();
    bool text();
    bool number();
    bool enumeration();
    bool binary();
    const char* keyword();
    const char* reference();

    void skip_blank();
    bool word(std::string_view expected);
    bool take(char c);
    char peek() const { return position_ < bytes_.size() ? bytes_[position_] : '\0'; }
    bool add(std::size_t start, Interface_ParamType type);
    const char* kept(std::size_t start);
    const char* name_of_list(std::size_t number);

    std::string_view bytes_;
    std::size_t position_ = 0;
    std::string texts_;     ///< each ends with a zero
    std::size_t used_ = 0;  ///< of texts_
    std::deque<std::string> list_names_;
    std::size_t lists_ = 0;  ///< lists opened in this instance
    int depth_ = 0;
    std::size_t header_ = 0;
    std::vector<RecordParameter> open_;  ///< of lists that are not closed yet
    std::vector<RecordParameter> parameters_;
    std::vector<FileRecord> records_;
};

}  // namespace planform::model
