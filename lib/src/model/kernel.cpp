#include "model/kernel.hpp"

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>

namespace planform::model {

namespace {

thread_local int silence_depth = 0;

/// Hands messages on to a printer that was there before, unless this thread is silent.
class ThreadGate : public Message_Printer {
  public:
    explicit ThreadGate(const Handle(Message_Printer) & behind) : behind_(behind) {
        SetTraceLevel(behind->GetTraceLevel());
    }

  protected:
    void send(const TCollection_AsciiString& text, const Message_Gravity gravity) const override {
        if (silence_depth == 0) behind_->Send(text, gravity);
    }

  private:
    Handle(Message_Printer) behind_;
};

/// Puts a gate before every printer of the default messenger, once in the life of the process: to
/// take printers out and put them back at each call would disturb other threads.
void install_gates() {
    static std::once_flag once;
    std::call_once(once, [] {
        Message_SequenceOfPrinters& printers = Message::DefaultMessenger()->ChangePrinters();
        for (int i = 1; i <= printers.Length(); ++i) {
            printers.ChangeValue(i) = new ThreadGate(printers.Value(i));
        }
    });
}

}  // namespace

std::mutex& exchange_mutex() {
    static std::mutex mutex;
    return mutex;
}

Silence::Silence() {
    install_gates();
    ++silence_depth;
}

Silence::~Silence() { --silence_depth; }

std::string describe_failure(const Standard_Failure& failure) {
    const std::string message = failure.GetMessageString();
    const std::string type = failure.DynamicType()->Name();
    return message.empty() ? type : type + ": " + message;
}

}  // namespace planform::model
