// Starts the checks that are written in C.
#include <gtest/gtest.h>

extern "C" int use_c_interface(void);

namespace {

TEST(CInterface, WorksFromC) {
  EXPECT_EQ(use_c_interface(), 0) << "the number is a line of c_interface.c";
}

}  // namespace
