// SPDX-License-Identifier: MIT
// What the fuzzer calls. One program for each target, told by CURDWRIGHT_FUZZ_TARGET.
#include <cstddef>
#include <cstdint>

#include "fuzz/fuzz.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  curdwright::fuzz::CURDWRIGHT_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
  return 0;
}
