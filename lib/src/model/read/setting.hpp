#pragma once

#include <string>

namespace planform::model {

/// A process-wide setting of the kernel's data exchange, put back when this goes. Made while the
/// exchange mutex is held, after STEPControl_Controller::Init() has registered the settings and
/// before the reader or writer, which copies some of them.
class Setting {
  public:
    Setting(const char* name, const char* value);
    ~Setting();
    Setting(const Setting&) = delete;
    Setting& operator=(const Setting&) = delete;

  private:
    const char* name_;
    std::string before_;
};

}  // namespace planform::model
