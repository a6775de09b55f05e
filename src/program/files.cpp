// SPDX-License-Identifier: MIT
#include "program/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <optional>

#include "json/document.hpp"
#include "program/descriptor.hpp"
#include "program/report.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// Name of the unfinished file, for the signal handler.
std::array<char, 4096> unfinished{};

extern "C" void on_interrupt(int) {
  if (unfinished[0] != 0) ::unlink(unfinished.data());
  ::_exit(130);
}

std::atomic<int> stop_wished{0};  // workers look at it, too
static_assert(std::atomic<int>::is_always_lock_free, "a signal handler may touch no other");

/// The first wish is for a clean end; a second one is not kept waiting.
extern "C" void on_stop_wish(int signal) {
  if (stop_wished != 0) on_interrupt(signal);
  stop_wished = 1;
}

Problem file_problem(std::string_view what, const std::string& path, int error, std::string fix) {
  return {"file", shown_as(path), fmt::format("{}: {}", what, std::strerror(error)), "", std::move(fix)};
}

Problem not_written(const std::string& path, int error) {
  Problem p = file_problem("cannot be written", path, error, mend_writing(error));
  p.why = "nothing was changed";
  return p;
}

/// Standard output, devices and pipes: what went out cannot be taken back.
Problem not_written_out(const std::string& path, int error) {
  Problem p = file_problem("cannot be written", path, error, mend_writing(error));
  p.why = "part of the answer may have gone out";
  return p;
}

bool write_all(int fd, std::string_view text) {
  while (!text.empty()) {
    const ssize_t n = ::write(fd, text.data(), text.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

void remember(const std::string& path) {
  if (path.size() + 1 < unfinished.size()) std::memcpy(unfinished.data(), path.c_str(), path.size() + 1);
}

/// A new file beside the target, under a name of its own: the target's may be as long as names can be, and another program that was
/// killed may have left one behind.
int open_beside(const std::string& target, mode_t mode, std::string& name) {
  const std::filesystem::path folder = std::filesystem::path(target).parent_path();
  for (int n = 0; n < 100; ++n) {
    name = (folder / fmt::format(".curdwright-{}-{}.part", ::getpid(), n)).string();
    remember(name);
    const int fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (fd >= 0 || errno != EEXIST) return fd;
    unfinished[0] = 0;
  }
  return -1;
}

/// Where nothing may be replaced, not even what came to be since it was looked for.
bool put_in_place(const std::string& from, const std::string& to, bool replace) {
  if (replace) return ::rename(from.c_str(), to.c_str()) == 0;
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return true;
  // Not every file system can; but none lets a second name take the place of a first.
  return (errno == EINVAL || errno == ENOSYS) && ::link(from.c_str(), to.c_str()) == 0 && ::unlink(from.c_str()) == 0;
}

Problem already_there(const std::string& path) {
  return {"file-exists", shown_as(path), "the file is there already", "nothing is overwritten unasked", "use --force, or another name"};
}

bool is_link(const std::string& path) {
  struct stat there {};
  return ::lstat(path.c_str(), &there) == 0 && S_ISLNK(there.st_mode);
}

/// Through a link, the file it leads to is replaced, not the link.
std::string led_to(const std::string& path) {
  std::error_code ignored;
  const std::string followed = std::filesystem::canonical(path, ignored).string();
  return followed.empty() ? path : followed;
}

/// To a new file, which then takes the name. One that was there keeps its permissions, whatever the mask.
Result<void> replace_file(const std::string& path, std::string_view text, bool force, std::optional<mode_t> was) {
  const std::string target = was ? led_to(path) : path;
  std::string temporary;
  const Descriptor out(open_beside(target, was.value_or(0666U), temporary));
  const bool written = out.fd >= 0 && (!was || ::fchmod(out.fd, *was) == 0) && write_all(out.fd, text) && ::fsync(out.fd) == 0;
  const bool done = written && put_in_place(temporary, target, force);
  const int error = errno;
  if (!done && out.fd >= 0) ::unlink(temporary.c_str());
  unfinished[0] = 0;
  if (done) return {};
  return fail(written && error == EEXIST ? already_there(path) : not_written(path, error));
}

/// Devices and pipes are written straight; only a regular file can be replaced by renaming.
Result<void> write_special(const std::string& path, std::string_view text) {
  const Descriptor out(::open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NOCTTY));
  if (out.fd < 0 || !write_all(out.fd, text)) return fail(not_written_out(path, errno));
  return {};
}

}  // namespace

Result<std::string> read_text(const std::string& path) {
  const bool standard = path == "-";
  const Descriptor in(standard ? 0 : ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY));
  if (in.fd < 0) return fail(file_problem("cannot be opened", path, errno, errno != ENOENT ? "" : path.empty() ? "give the file's name" : "check the name"));
  std::string text;
  std::array<char, 65536> buffer{};
  while (text.size() <= json::max_bytes) {
    const ssize_t n = ::read(in.fd, buffer.data(), buffer.size());
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return fail(file_problem("cannot be read", path, errno, errno == EISDIR ? "name a file, not a folder" : ""));
    if (n == 0) break;
    text.append(buffer.data(), static_cast<std::size_t>(n));
  }
  return text;
}

bool file_is_there(const std::string& path) {
  struct stat there {};
  return ::stat(path.c_str(), &there) == 0;
}

bool same_file(const std::string& a, const std::string& b) {
  struct stat one {}, other {};
  return ::stat(a.c_str(), &one) == 0 && ::stat(b.c_str(), &other) == 0 && one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

Result<void> write_file(const std::string& path, std::string_view text, bool force) {
  struct stat there {};
  const bool exists = ::stat(path.c_str(), &there) == 0;
  if (exists && S_ISDIR(there.st_mode)) return fail(file_problem("cannot be written", path, EISDIR, "name a file, not a folder"));
  if (exists && !S_ISREG(there.st_mode)) return write_special(path, text);
  if (exists && !force) return fail(already_there(path));
  if (!exists && is_link(path))
    return fail(Problem{"file", shown_as(path), "cannot be written: the link leads to no file", "nothing was changed", "name the file itself, or take the link away"});
  // A file that its owner shut stays shut; renaming alone would not ask.
  if (exists && ::access(path.c_str(), W_OK) != 0) return fail(not_written(path, errno));
  return replace_file(path, text, force, exists ? std::optional<mode_t>(there.st_mode & 0777U) : std::nullopt);
}

void remove_file(const std::string& path) { ::unlink(path.c_str()); }

Result<void> write_out(std::string_view text) {
  if (write_all(1, text) || errno == EPIPE) return {};
  return fail(not_written_out("standard output", errno));
}

Result<bool> write_on(std::string_view text) {
  if (write_all(1, text)) return true;
  if (errno == EPIPE) return false;
  return fail(not_written_out("standard output", errno));
}

void write_error(std::string_view text) { static_cast<void>(write_all(2, text)); }

namespace {

constexpr std::array<std::string_view, 4> record_folders = {"legumes", "coagulants", "extras", "equipment"};
constexpr std::array<std::string_view, 3> record_files = {"sources.json", "model.json", "refused.json"};

template <std::size_t n>
bool is_one_of(const std::array<std::string_view, n>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// "legume/" is a slip and would be passed over, and so is a record beside the folders; "photos/" is none of ours.
Result<void> check_places(const std::string& folder) {
  namespace fs = std::filesystem;
  std::error_code error;
  for (fs::directory_iterator i(folder, error), end; !error && i != end; i.increment(error)) {
    const std::string name = i->path().filename().string();
    const std::string_view near = text::nearest(name, record_folders);
    if (i->is_directory(error) && !is_one_of(record_folders, name) && !near.empty())
      return fail(Problem{"data-unknown", shown_as(i->path().string() + "/"), "this folder would not be read", "records stand in legumes/, coagulants/, extras/ and equipment/",
                          fmt::format("call it {}/, or move it away", near)});
    if (i->is_regular_file(error) && i->path().extension() == ".json" && !is_one_of(record_files, name))
      return fail(Problem{"data-unknown", shown_as(i->path().string()), "this file would not be read", "records stand in legumes/, coagulants/, extras/ and equipment/",
                          "move it into the folder of its kind, or away"});
  }
  return {};
}

/// Names of the records below a folder, sorted.
Result<std::vector<std::string>> record_paths(const std::string& folder) {
  namespace fs = std::filesystem;
  std::error_code error;
  std::vector<std::string> paths;
  for (std::string_view sub : record_folders) {
    const fs::path below = fs::path(folder) / sub;
    if (!fs::exists(below, error)) continue;
    for (fs::directory_iterator i(below, error), end; !error && i != end; i.increment(error))
      if (i->path().extension() == ".json") paths.push_back(std::string(sub) + "/" + i->path().filename().string());
    if (error) return fail(file_problem("cannot be read", below.string(), error.value(), ""));
  }
  for (std::string_view file : record_files)
    if (fs::exists(fs::path(folder) / file, error)) paths.emplace_back(file);
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace

Result<std::vector<RecordText>> read_records(const std::string& folder) {
  namespace fs = std::filesystem;
  std::error_code error;
  if (!fs::is_directory(folder, error)) return fail(file_problem("is no folder", folder, error ? error.value() : ENOTDIR, "give the folder that holds legumes/, coagulants/, extras/ or equipment/"));
  if (auto right = check_places(folder); !right) return fail(right.error());
  const auto paths = record_paths(folder);
  if (!paths) return fail(paths.error());
  if (paths->empty())
    return fail(Problem{"data-empty", shown_as(folder), "the folder holds no records", "records stand in legumes/, coagulants/, extras/ and equipment/", "see data/README.md of the source"});
  std::vector<RecordText> records;
  for (const std::string& p : *paths) {
    const std::string full = (fs::path(folder) / p).string();
    auto text = read_text(full);
    if (!text) return fail(text.error());
    records.push_back({p, std::move(*text), text::harmless(full)});
  }
  return records;
}

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

Terminal standard_output() {
  Terminal t;
  t.is_terminal = ::isatty(1) == 1;
  if (!t.is_terminal) return t;
  struct winsize size {};
  if (::ioctl(1, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) t.columns = size.ws_col;
  const std::string told = environment("COLUMNS");
  if (int columns = 0; std::from_chars(told.data(), told.data() + told.size(), columns).ec == std::errc() && columns > 0) t.columns = columns;
  t.columns = std::clamp(t.columns, 40, 100);
  return t;
}

bool standard_error_is_terminal() { return ::isatty(2) == 1; }
bool standard_input_is_terminal() { return ::isatty(0) == 1; }

std::optional<std::string> read_line() {
  constexpr std::size_t longest = 4096;
  std::string line;
  for (char c = 0; ::read(0, &c, 1) == 1;) {
    if (c == '\n') return line;
    if (line.size() < longest) line += c;
  }
  return std::nullopt;
}

bool wants_colour(std::string_view option, bool is_terminal) {
  if (option == "always") return true;
  if (option == "never") return false;
  if (!environment("NO_COLOR").empty()) return false;
  if (const std::string force = environment("CLICOLOR_FORCE"); !force.empty() && force != "0") return true;
  return is_terminal && environment("TERM") != "dumb" && !environment("TERM").empty();
}

void stop_when_asked() {
  struct sigaction wish {};
  wish.sa_handler = on_stop_wish;  // without SA_RESTART, so that a read that waits is ended
  for (int s : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction old {};
    ::sigaction(s, nullptr, &old);
    if (old.sa_handler != SIG_IGN) ::sigaction(s, &wish, nullptr);
  }
}

bool stop_asked() { return stop_wished != 0; }

void install_signal_handlers() {
  static_cast<void>(std::signal(SIGPIPE, SIG_IGN));
  static_cast<void>(std::signal(SIGXFSZ, SIG_IGN));
  for (int s : {SIGINT, SIGTERM, SIGHUP})
    if (std::signal(s, on_interrupt) == SIG_IGN) static_cast<void>(std::signal(s, SIG_IGN));
}

}  // namespace curdwright::program
