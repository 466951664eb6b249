#include "model/read/setting.hpp"

#include <Interface_Static.hxx>

namespace planform::model {

Setting::Setting(const char* name, const char* value) : name_(name) {
    if (!Interface_Static::IsSet(name, Standard_False)) return;
    before_ = Interface_Static::CVal(name);
    Interface_Static::SetCVal(name, value);
}

Setting::~Setting() {
    if (!before_.empty()) Interface_Static::SetCVal(name_, before_.c_str());
}

}  // namespace planform::model
