// Text outputs held to approved files: tests/golden/NAME. A change shows as a difference; if it is
// wanted, `cmake --build build --target approve` rewrites the files, and the diff is reviewed.
// Tests that use this carry the label `golden`.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace understudy {

// Compares `text` with the approved file of that name (such as "explain/control.txt"); the failure
// shows the first line that differs. With UNDERSTUDY_APPROVE=1 in the environment writes the file
// instead, and succeeds.
testing::AssertionResult is_approved(const std::string& name, std::string_view text);

// The same, with the folder of approved files given.
testing::AssertionResult is_approved_in(const std::string& folder, const std::string& name,
                                        std::string_view text);

}  // namespace understudy
