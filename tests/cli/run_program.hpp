// SPDX-License-Identifier: MIT
// Runs the program as a user does: through /bin/sh, in a fresh folder, with a known environment and a time limit.
//
//     Sandbox box;
//     const Outcome o = box.run("curdwright --version");
//     CHECK(o.status == 0);
#pragma once

#include <fcntl.h>
#include <grp.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "support/support.hpp"

namespace curdwright::test {

namespace fs = std::filesystem;

/// A new empty folder, deleted with its object.
class Folder {
 public:
  Folder() {
    const char* below = std::getenv("TMPDIR");
    std::string name = std::string(below && *below ? below : "/tmp") + "/curdwright-test-XXXXXX";
    if (!::mkdtemp(name.data())) throw std::runtime_error("no temporary folder at " + name);
    path_ = name;
    fs::permissions(path_, fs::perms(0755));
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

struct Outcome {
  std::string out, err;
  int status = -1;        ///< as the shell has it: 128 + n for signal n
  bool too_slow = false;  ///< killed at the time limit
};

struct RunAs {
  std::vector<std::string> environment = {"TZ=Asia/Tokyo", "LC_ALL=C"};
  int seconds = 20;
  bool nobody = false;  ///< give up root first, when we are root
};

/// Whether this process holds CAP_SYS_ADMIN, so that a script may mount a small disk.
inline bool may_mount() {
  const std::string status = read_file("/proc/self/status");
  const auto at = status.find("CapEff:");
  return at != std::string::npos && (std::stoull(status.substr(at + 7), nullptr, 16) >> 21U & 1U) != 0;
}

/// The program as built, or another build of it: one that counts its lines, or loads what has a fault planted.
inline std::string program() {
  const char* other = std::getenv("CURDWRIGHT_PROGRAM_UNDER_TEST");
  return other ? other : CURDWRIGHT_PROGRAM;
}

/// Holds a copy of the program, so that it can be reached without root and does not change during a run.
inline const fs::path& folder_of_program() {
  static const Folder folder;
  static const bool copied = fs::copy_file(program(), folder.path() / "curdwright");
  if (!copied) throw std::runtime_error("no program at " + program());
  return folder.path();
}

class Sandbox {
 public:
  Sandbox() {
    fs::create_directory(work());
    folder_of_program();
  }

  [[nodiscard]] fs::path work() const { return folder_.path() / "work"; }
  /// Copies a file or a whole folder of the source into the working folder.
  void give(const std::string& from, const std::string& to) const {
    fs::copy(fs::path(CURDWRIGHT_SOURCE_DIR) / from, work() / to, fs::copy_options::recursive | fs::copy_options::overwrite_existing);
  }

  [[nodiscard]] Outcome run(const std::string& script, const RunAs& as = {}) const {
    if (as.nobody) give_away();
    // Made before the fork, so that the child only calls what is safe after one.
    std::vector<std::string> environment = as.environment;
    environment.push_back("PATH=" + folder_of_program().string() + ":/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin");
    environment.push_back("HOME=" + work().string());
    environment.push_back("TERM=xterm-256color");
    if (const char* first = std::getenv("LD_PRELOAD")) environment.push_back(std::string("LD_PRELOAD=") + first);
    std::vector<char*> envp;
    for (std::string& e : environment)
      envp.push_back(e.data());
    envp.push_back(nullptr);
    const std::string out = (folder_.path() / "out").string(), err = (folder_.path() / "err").string(), in = work().string();
    const pid_t child = ::fork();
    if (child < 0) throw std::runtime_error("no new process");
    if (child == 0) become_shell(script, envp.data(), in, out, err, as.nobody);
    Outcome o = wait_for(child, as.seconds);
    o.out = read_file(out);
    o.err = read_file(err);
    return o;
  }

 private:
  static constexpr unsigned nobody_id = 65534;

  [[noreturn]] static void become_shell(const std::string& script, char* const* envp, const std::string& in, const std::string& out, const std::string& err,
                                        bool nobody) {
    ::setpgid(0, 0);
    const struct rlimit none {};
    ::setrlimit(RLIMIT_CORE, &none);
    ::signal(SIGPIPE, SIG_DFL);
    const int from = ::open("/dev/null", O_RDONLY);
    const int to = ::open(out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0666), errors = ::open(err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0666);
    bool ready = from >= 0 && to >= 0 && errors >= 0 && ::dup2(from, 0) == 0 && ::dup2(to, 1) == 1 && ::dup2(errors, 2) == 2 && ::chdir(in.c_str()) == 0;
    for (const int fd : {from, to, errors})
      if (fd > 2) ::close(fd);
    if (nobody && ::geteuid() == 0) ready = ready && ::setgroups(0, nullptr) == 0 && ::setgid(nobody_id) == 0 && ::setuid(nobody_id) == 0;
    const char* argv[] = {"sh", "-c", script.c_str(), nullptr};
    if (ready) ::execve("/bin/sh", const_cast<char* const*>(argv), envp);
    ::_exit(126);
  }

  static Outcome wait_for(pid_t child, int seconds) {
    Outcome o;
    int state = 0;
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(seconds);
    for (pid_t done = 0; (done = ::waitpid(child, &state, WNOHANG)) == 0;) {
      if (std::chrono::steady_clock::now() > end) {
        o.too_slow = true;
        ::kill(-child, SIGKILL);
        ::waitpid(child, &state, 0);
        break;
      }
      std::this_thread::sleep_for(std::chrono::microseconds(500));
    }
    ::kill(-child, SIGKILL);  // what the script left running
    o.status = WIFEXITED(state) ? WEXITSTATUS(state) : 128 + WTERMSIG(state);
    return o;
  }

  void give_away() const {
    if (::geteuid() != 0) return;
    for (const auto& e : fs::recursive_directory_iterator(work()))
      if (::lchown(e.path().c_str(), nobody_id, nobody_id) != 0) throw std::runtime_error("cannot give away " + e.path().string());
    if (::lchown(work().c_str(), nobody_id, nobody_id) != 0) throw std::runtime_error("cannot give away " + work().string());
  }

  Folder folder_;
};

}  // namespace curdwright::test
