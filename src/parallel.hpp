// SPDX-License-Identifier: MIT
// Work that is shared out over threads.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace curdwright {

/// Does something for each index below `count`, on so many threads or as many as are to be had; what is done for one index
/// must not touch what is done for another. What is thrown first is thrown again once all have stopped.
template <class Do>
void for_each_on(std::size_t threads, std::size_t count, const Do& what) {
  std::atomic<std::size_t> next{0};
  std::exception_ptr thrown;
  std::mutex guard;
  const auto work = [&]() noexcept {
    try {
      for (std::size_t i = next++; i < count; i = next++) what(i);
    } catch (...) {
      next = count;  // the others begin nothing more
      const std::lock_guard lock(guard);
      if (!thrown) thrown = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> others;
    try {
      others.reserve(std::min(threads, count));
      while (others.size() + 1 < std::min(threads, count)) others.emplace_back(work);
    } catch (const std::system_error&) {
      // No more threads are to be had: those that there are do the rest.
    }
    work();
  }
  if (thrown) std::rethrow_exception(thrown);
}

}  // namespace curdwright
