// SPDX-License-Identifier: MIT
#include "program/diary_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <thread>

#include "curdwright/diary.hpp"
#include "program/descriptor.hpp"
#include "program/files.hpp"
#include "program/report.hpp"

namespace curdwright::program {
namespace {

namespace fs = std::filesystem;

constexpr off_t most_bytes = max_diary;
constexpr std::chrono::seconds longest_wait(30);

/// As for any file, but that the event is to be told again, and that another diary has its option.
std::string advice(int error) {
  switch (error) {
    case ENOENT:
    case ENOTDIR:
    case EISDIR:
    case ENAMETOOLONG: return mend_writing(error);
    case ENOSPC:
    case EDQUOT:
    case EFBIG: return mend_writing(error) + ", then tell it again";
    case EACCES:
    case EPERM: return "allow yourself to write to it and to its folder, or name another with --diary FILE";
    case EROFS: return "name a diary on a disk that may be written to, with --diary FILE";
    default: return "check the disk, then tell it again; or name another diary with --diary FILE";
  }
}

Problem trouble(std::string_view what, const std::string& path, int error, std::string why) {
  return {"file", shown_as(path), fmt::format("{}: {}", what, std::strerror(error)), std::move(why), advice(error)};
}

constexpr std::string_view kept = "the diary is as it was: what it held before is safe, and this was not added";

/// The file behind links, so that two names of one diary share one lock.
std::string followed(const std::string& path) {
  std::error_code error;
  fs::path at(path);
  for (int links = 0; links < 40 && fs::is_symlink(at, error); ++links) {
    const fs::path to = fs::read_symlink(at, error);
    at = to.is_absolute() ? to : at.parent_path() / to;
  }
  const fs::path folder = fs::canonical(at.has_parent_path() ? at.parent_path() : fs::path("."), error);
  return error ? at.string() : (folder / at.filename()).string();
}

// --- folders --------------------------------------------------------------------------------------

void flush_folder(const fs::path& folder) {
  const Descriptor d(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (d.fd >= 0) ::fsync(d.fd);
}

/// Only the folders of the standard place are made; a folder that is named is likelier mistyped than missing.
Result<void> make_folders(const fs::path& folder) {
  fs::path at;
  for (const fs::path& step : folder) {
    at /= step;
    if (::mkdir(at.c_str(), 0700) == 0)
      flush_folder(at.parent_path());
    else if (errno != EEXIST && errno != EISDIR && ::access(at.c_str(), F_OK) != 0)
      return fail(trouble("the folder cannot be made", at.string(), errno, "the diary is kept in it"));
  }
  return {};
}

std::string standard_folder() {
  // "All paths set in these environment variables must be absolute", and others are to be ignored.
  const std::string data = environment("XDG_DATA_HOME"), home = environment("HOME");
  if (data.starts_with('/')) return data + "/curdwright";
  return home.starts_with('/') ? home + "/.local/share/curdwright" : "";
}

// --- lock and file --------------------------------------------------------------------------------

/// Waits for the lock, but not for ever: another program may hang.
bool locked(int fd, int how) {
  const auto end = std::chrono::steady_clock::now() + longest_wait;
  while (::flock(fd, how | LOCK_NB) != 0) {
    if (errno != EWOULDBLOCK && errno != EINTR) return false;
    if (std::chrono::steady_clock::now() > end) return errno = EWOULDBLOCK, false;
    std::this_thread::sleep_for(std::chrono::microseconds(300));
  }
  return true;
}

Problem not_locked(const std::string& path, int error) {
  if (error != EWOULDBLOCK) return trouble("the lock cannot be made", path, error, "it keeps two programs from writing to the diary at once; nothing was added");
  return {"file", shown_as(path), "the diary is locked by another program", fmt::format("{} s were waited; nothing was added", longest_wait.count()), "see what else is using the diary, then tell it again"};
}

/// A device or a pipe keeps nothing.
Result<void> check_kind(const struct stat& s, const std::string& path) {
  if (S_ISDIR(s.st_mode)) return fail(Problem{"file", shown_as(path), "is no diary: it is a folder", "", "name a file in it with --diary FILE"});
  if (!S_ISREG(s.st_mode)) return fail(Problem{"file", shown_as(path), "is no diary: it is not a regular file", "a device or a pipe keeps no lines", "name a file with --diary FILE"});
  if (s.st_size > most_bytes) return fail(Problem{"file", shown_as(path), fmt::format("the diary has {} bytes", static_cast<long long>(s.st_size)), fmt::format("up to {} MiB are read", most_bytes >> 20U), "keep this one, and begin another with --diary FILE"});
  return {};
}

Result<std::string> all_of(int fd, const std::string& path) {
  struct stat s {};
  if (::fstat(fd, &s) != 0) return fail(trouble("cannot be read", path, errno, ""));
  if (auto kind = check_kind(s, path); !kind) return fail(kind.error());
  std::string text;
  text.reserve(static_cast<std::size_t>(s.st_size));
  std::array<char, 65536> buffer{};
  for (;;) {
    const ssize_t n = ::pread(fd, buffer.data(), buffer.size(), static_cast<off_t>(text.size()));
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return fail(trouble("cannot be read", path, errno, ""));
    if (n == 0) return text;
    text.append(buffer.data(), static_cast<std::size_t>(n));
  }
}

/// Ctrl-C waits until a line is whole on the disk, or taken back.
class SignalsWait {
 public:
  SignalsWait() {
    sigset_t stop;
    sigemptyset(&stop);
    for (const int s : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&stop, s);
    sigprocmask(SIG_BLOCK, &stop, &before_);
  }
  SignalsWait(const SignalsWait&) = delete;
  SignalsWait& operator=(const SignalsWait&) = delete;
  ~SignalsWait() { sigprocmask(SIG_SETMASK, &before_, nullptr); }

 private:
  sigset_t before_{};
};

/// In one write; only where the disk took a part of it is the rest tried, to learn why.
bool write_whole(int fd, std::string_view bytes) {
  for (int tries = 0; tries < 3 && !bytes.empty(); ++tries) {
    const ssize_t n = ::write(fd, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  if (!bytes.empty()) errno = EIO;
  return bytes.empty();
}

Result<void> add_bytes(int fd, const std::string& path, std::string_view bytes, std::size_t length, bool made) {
  const SignalsWait wait;
  if (write_whole(fd, bytes) && ::fsync(fd) == 0) {
    if (made) flush_folder(fs::path(path).parent_path());
    return {};
  }
  const int error = errno;
  // A file that this call made is left empty, which is an empty diary.
  if (::ftruncate(fd, static_cast<off_t>(length)) != 0)
    return fail(trouble("cannot be written", path, error, "what the diary held before is safe, but a part of a line may stand at its end; the next reading tells of it"));
  ::fsync(fd);
  return fail(trouble("cannot be written", path, error, std::string(kept)));
}

}  // namespace

Result<std::string> diary_path(const Request& r) {
  if (r.value("--diary") == "-") return fail(usage("--diary cannot be \"-\"", "lines are added to a file", "name the file"));
  if (const auto told = r.value("--diary")) return *told;
  if (const std::string told = environment("CURDWRIGHT_DIARY"); !told.empty()) return told;
  const std::string folder = standard_folder();
  if (folder.empty()) return fail(Problem{"file", {}, "there is no place for the diary", "neither XDG_DATA_HOME nor HOME names a folder", "name it with --diary FILE or CURDWRIGHT_DIARY"});
  return folder + "/diary.jsonl";
}

Result<std::string> read_diary_text(const std::string& path) {
  const std::string file = followed(path);
  const Descriptor in(::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK));
  if (in.fd < 0 && errno == ENOENT && !path.empty()) return std::string();
  if (in.fd < 0) return fail(Problem{"file", shown_as(path), fmt::format("cannot be opened: {}", std::strerror(errno)), "", errno == ENOENT ? "give the diary's name" : "allow yourself to read it, or name another with --diary FILE"});
  // Where no lock can be had, the diary is on a disk that nobody writes to.
  const Descriptor lock(::open((file + ".lock").c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK | O_NOFOLLOW));
  if (lock.fd >= 0 && !locked(lock.fd, LOCK_SH)) return fail(not_locked(path + ".lock", errno));
  return all_of(in.fd, path);
}

bool no_diary_yet(const std::string& path) {
  struct stat there {};
  return !path.empty() && ::stat(path.c_str(), &there) != 0 && errno == ENOENT;
}

Result<void> append_to_diary(const std::string& path, const NextBytes& next) {
  if (path == standard_folder() + "/diary.jsonl")
    if (auto made = make_folders(standard_folder()); !made) return made;
  const std::string file = followed(path);
  struct stat there {};
  if (::stat(file.c_str(), &there) == 0)
    if (auto kind = check_kind(there, path); !kind) return kind;
  // Through no link: it would make a file elsewhere.
  const Descriptor lock(::open((file + ".lock").c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOCTTY | O_NONBLOCK | O_NOFOLLOW, 0666));
  if (lock.fd < 0) return fail(trouble("the lock beside the diary cannot be made", path + ".lock", errno, "it keeps two programs from writing to the diary at once; nothing was added"));
  if (!locked(lock.fd, LOCK_EX)) return fail(not_locked(path + ".lock", errno));
  constexpr int how = O_RDWR | O_APPEND | O_CLOEXEC | O_NOCTTY | O_NONBLOCK;
  const Descriptor old(::open(file.c_str(), how));
  if (old.fd < 0 && errno != ENOENT) return fail(trouble("cannot be written", path, errno, std::string(kept)));
  const auto text = old.fd < 0 ? Result<std::string>("") : all_of(old.fd, path);
  if (!text) return fail(text.error());
  const auto bytes = next(*text);
  if (!bytes) return fail(bytes.error());
  if (old.fd >= 0) return add_bytes(old.fd, path, *bytes, text->size(), false);
  // Made only now, when there is something to write into it.
  const Descriptor fresh(::open(file.c_str(), how | O_CREAT, 0666));
  if (fresh.fd < 0) return fail(trouble("cannot be written", path, errno, std::string(kept)));
  return add_bytes(fresh.fd, path, *bytes, 0, true);
}

}  // namespace curdwright::program
