#include "child.hpp"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstring>
#include <exception>
#include <functional>
#include <nlohmann/json.hpp>

#include "planform/error.hpp"
#include "planform/memory.hpp"
#include "processor_time.hpp"

namespace corpus {
namespace {

using nlohmann::json;

std::string line_of(const json& value) {
    return value.dump(-1, ' ', false, json::error_handler_t::replace) + '\n';
}

void send(int pipe, const json& message) {
    const std::string line = line_of(message);
    std::size_t sent = 0;
    while (sent < line.size()) {
        const ssize_t count = write(pipe, line.data() + sent, line.size() - sent);
        if (count <= 0) _exit(3);
        sent += static_cast<std::size_t>(count);
    }
}

json message_of(std::size_t step, const Outcome& outcome) {
    json problems = json::array();
    for (const Problem& p : outcome.problems) problems.push_back({p.kind, p.step, p.text});
    return {{"done", step},
            {"seconds", outcome.seconds},
            {"peer", outcome.peer_seconds},
            {"places", outcome.places},
            {"deviation", outcome.deviation},
            {"counts", outcome.counts},
            {"problems", problems}};
}

/// Of the bytes of each solid.
std::vector<std::size_t> digests_of(const std::vector<planform::Solid>& solids) {
    std::vector<std::size_t> digests;
    for (const planform::Solid& solid : solids)
        digests.push_back(std::hash<std::string>()(planform::brep_bytes(solid)));
    return digests;
}

/// Solids are values: whoever has one can ask the kernel of it after us.
void send_changed(const std::vector<planform::Solid>& solids,
                  const std::vector<std::size_t>& digests, int pipe) {
    const std::vector<std::size_t> now = digests_of(solids);
    for (std::size_t k = 0; k < solids.size(); ++k)
        if (now[k] != digests[k])
            send(pipe, {{"changed", "solid " + std::to_string(k + 1) + " \"" + solids[k].name() +
                                        "\" is another one after all steps"}});
}

/// In the child: everything from the step `first` on.
void run(const Source& source, const MakeSteps& make_steps, std::size_t first, int pipe) {
#ifndef __SANITIZE_ADDRESS__  // it reserves terabytes
    constexpr rlim_t most_memory = 6UL << 30U;
    const rlimit memory{most_memory, most_memory};
    setrlimit(RLIMIT_AS, &memory);
#endif
    const rlimit no_core{0, 0};
    setrlimit(RLIMIT_CORE, &no_core);
    if (source.prepare) {
        arm_timer(make_limit);
        if (!source.prepare()) {
            send(pipe, {{"unmade", true}});
            return;
        }
    }
    send(pipe, {{"prepared", true}});
    arm_timer(read_limit);
    std::vector<planform::Solid> solids;
    try {
        solids = source.solids();
    } catch (const std::exception& error) {
        send(pipe, {{"unread", error.what()}});
        return;
    }
    arm_timer(judge_limit);
    const std::vector<std::size_t> digests = digests_of(solids);
    arm_timer(read_limit);
    const std::vector<Step> steps = source.steps ? source.steps(solids) : make_steps(solids);
    send(pipe, {{"solids", solids.size()}, {"steps", steps.size()}});
    for (std::size_t k = first; k < steps.size(); ++k) {
        send(pipe, {{"begin", k}, {"name", steps[k].name}, {"peer", steps[k].is_peer}});
        arm_timer(steps[k].is_peer ? 3.0 * hang_limit : hang_limit);
        Outcome outcome;
        try {
            outcome = steps[k].run();
            if (steps[k].judge) {
                send(pipe, {{"judging", message_of(k, outcome)}});
                arm_timer(judge_limit);
                steps[k].judge(outcome);
            }
        } catch (const std::exception& error) {
            outcome.problems.push_back({"no judge", steps[k].name, error.what()});
        } catch (...) {
            outcome.problems.push_back({"no judge", steps[k].name, "an unknown exception"});
        }
        send(pipe, message_of(k, outcome));
    }
    arm_timer(judge_limit);
    send_changed(solids, digests, pipe);
    send(pipe, {{"end", true}});
}

/// What the parent knows while it listens.
class Listening {
  public:
    explicit Listening(SourceResult& heard) : result(heard) {}

    SourceResult& result;
    bool is_prepared = false, has_ended = false, has_begun = false, is_peer = false;
    json judging;          ///< what the step had done before its judge began
    std::size_t step = 0;  ///< that was begun last
    std::string name = "reading";
    double last_seconds = 0.0;  ///< of the flattening done last

    void hear(const json& message) {
        if (message.contains("unmade")) {
            has_ended = true;
            ++result.counts["not made"];
        } else if (message.contains("prepared")) {
            is_prepared = true;
        } else if (message.contains("unread")) {
            result.problems.push_back({"not read", "reading", message["unread"]});
            has_ended = true;
        } else if (message.contains("changed")) {
            result.problems.push_back({"solid changed", "all steps", message["changed"]});
        } else if (message.contains("solids")) {
            result.solids = message["solids"];
        } else if (message.contains("begin")) {
            has_begun = true;
            step = message["begin"];
            name = message["name"];
            is_peer = message["peer"];
        } else if (message.contains("judging")) {
            judging = message["judging"];
        } else if (message.contains("done")) {
            done(message);
        } else if (message.contains("end")) {
            has_ended = true;
        }
    }

    void done(const json& message) {
        has_begun = false;
        judging = nullptr;
        ++step;
        for (const json& p : message["problems"]) result.problems.push_back({p[0], p[1], p[2]});
        for (const auto& [what, count] : message["counts"].items())
            result.counts[what] += static_cast<int>(count);
        const double seconds = message["seconds"], peer = message["peer"];
        if (is_peer) {
            compare(peer);
            return;
        }
        ++result.outlines;
        last_seconds = seconds;
        result.flattening += seconds;
        if (seconds > result.slowest) {
            result.slowest = seconds;
            result.slowest_step = name;
        }
        result.deviation = std::max<double>(result.deviation, message["deviation"]);
        result.places += static_cast<long long>(message["places"]);
    }

    void compare(double peer) {
        if (peer > 0.0) result.largest_ratio = std::max(result.largest_ratio, last_seconds / peer);
    }
};

void listen(int pipe, Listening& listening) {
    std::string text;
    char buffer[4096];
    for (ssize_t count = 0; (count = read(pipe, buffer, sizeof buffer)) > 0;) {
        text.append(buffer, static_cast<std::size_t>(count));
        std::size_t from = 0;
        for (std::size_t end = 0; (end = text.find('\n', from)) != std::string::npos;
             from = end + 1)
            listening.hear(json::parse(text.substr(from, end - from)));
        text.erase(0, from);
    }
}

}  // namespace

SourceResult work_through(const Source& source, const MakeSteps& make_steps) {
    SourceResult result;
    result.name = source.name;
    Listening listening(result);
    constexpr int most_deaths = 8;
    for (int death = 0; death <= most_deaths && !listening.has_ended; ++death) {
        int ends[2];
        if (pipe(ends) != 0) throw std::runtime_error("no pipe: " + std::string(strerror(errno)));
        const pid_t child = fork();
        if (child < 0) throw std::runtime_error("no process: " + std::string(strerror(errno)));
        if (child == 0) {
            close(ends[0]);
            // The kernel's writers talk.
            const int nowhere = open("/dev/null", O_WRONLY);
            if (nowhere >= 0) dup2(nowhere, STDOUT_FILENO);
            run(source, make_steps, listening.step, ends[1]);
            close(ends[1]);
            _exit(0);
        }
        close(ends[1]);
        listen(ends[0], listening);
        close(ends[0]);
        int status = 0;
        rusage usage{};
        wait4(child, &status, 0, &usage);
        result.seconds +=
            static_cast<double>(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
            1e-6 * static_cast<double>(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec);
        if (listening.has_ended) break;
        if (!listening.is_prepared) {
            ++result.counts["not made, the kernel died"];
            break;
        }
        const bool is_hang = WIFSIGNALED(status) && WTERMSIG(status) == SIGPROF;
        if (listening.has_begun && listening.is_peer) {
            if (is_hang) listening.compare(3.0 * hang_limit);
        } else {
            const std::string how = WIFSIGNALED(status)
                                        ? std::string("signal ") + strsignal(WTERMSIG(status))
                                        : "exit " + std::to_string(WEXITSTATUS(status));
            const bool is_judge = !listening.judging.is_null();
            result.problems.push_back({is_judge  ? "no judge"
                                       : is_hang ? "hang"
                                                 : "crash",
                                       listening.name, how});
            if (is_judge) {
                listening.done(json(listening.judging));
                continue;
            }
        }
        if (!listening.has_begun) break;  // while reading, or between steps: it would again
        listening.has_begun = false;
        ++listening.step;
    }
    return result;
}

}  // namespace corpus
