#include "model/kernel/kernel.hpp"

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <iostream>
#include <streambuf>

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

/// The same for a C++ stream: the kernel's BREP reader writes to std::cout when a table is not
/// where it should be, past its own messenger. Unbuffered, as std::cout is.
class StreamGate : public std::streambuf {
  public:
    explicit StreamGate(std::streambuf* behind) : behind_(behind) {}

  protected:
    int_type overflow(int_type c) override {
        if (silence_depth > 0 || traits_type::eq_int_type(c, traits_type::eof())) {
            return traits_type::not_eof(c);
        }
        return behind_->sputc(traits_type::to_char_type(c));
    }
    std::streamsize xsputn(const char* text, std::streamsize count) override {
        return silence_depth > 0 ? count : behind_->sputn(text, count);
    }
    int sync() override { return behind_->pubsync(); }

  private:
    std::streambuf* behind_;
};

/// Puts a gate before std::cout and every printer of the default messenger, once in the life of the
/// process: to take printers out and put them back at each call would disturb other threads.
void install_gates() {
    static std::once_flag once;
    std::call_once(once, [] {
        Message_SequenceOfPrinters& printers = Message::DefaultMessenger()->ChangePrinters();
        for (int i = 1; i <= printers.Length(); ++i) {
            printers.ChangeValue(i) = new ThreadGate(printers.Value(i));
        }
        // Never deleted: std::cout is flushed after the last static object has gone.
        std::cout.rdbuf(new StreamGate(std::cout.rdbuf()));
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
    // Some readers put an address and the inner exception on lines of their own: keep the last.
    std::string message = failure.GetMessageString();
    message.erase(0, message.find_last_of('\n') + 1);
    if (message.starts_with("0x")) message.erase(0, message.find(" : ") + 3);
    const std::string type = failure.DynamicType()->Name();
    return message.empty() ? type : type + ": " + message;
}

}  // namespace planform::model
