// Determinism beyond the split law: streams that do not disturb each other, the size of a device,
// and that nothing is drawn where nothing is random.
#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

std::string pots(std::string_view loop, std::initializer_list<const char*> names) {
  std::string text =
      "panel = \"Pots\"\n[board]\npreset = \"bootloader-8bit\"\nboot = \"0 s\"\n"
      "boot_spread = \"0 s\"\n[manners]\nloop = \"" +
      std::string(loop) + "\"\ngather = \"as it comes\"\n[host]\ndtr = \"nothing\"\n";
  for (const char* name : names)
    text += "[[control]]\nname = \"" + std::string(name) +
            "\"\nkind = \"pot\"\nrest = \"50 %\"\nnoise = \"20 mV\"\n";
  return text + "[[line]]\nto = \"game\"\ntext = \"{a} {b}\"\n";
}

std::string received_in(const std::string& panel, Duration length) {
  DeviceBench bench(panel, {.seed = 7, .name = "seat", .whole_lines = false});
  bench.open();
  bench.run(length);
  return bench.received();
}

TEST(Independence, AnAddedControlChangesNoByteOfTheOthersWhileTheLoopIsFixed) {
  EXPECT_EQ(received_in(pots("20 ms", {"a", "b"}), seconds(20)),
            received_in(pots("20 ms", {"a", "b", "zz"}), seconds(20)));
}

TEST(Independence, AnAddedControlShiftsAFreeLoopAsItDoesOnARealBoard) {
  const std::string two = received_in(pots("free", {"a", "b"}), seconds(1));
  const std::string three = received_in(pots("free", {"a", "b", "zz"}), seconds(1));
  EXPECT_NE(two.size(), three.size());
  // The draws stay the same all the same: line n carries the same numbers.
  const std::size_t common = std::min(two.size(), three.size()) / 2;
  EXPECT_EQ(two.substr(0, common), three.substr(0, common));
}

TEST(Independence, AnotherSeedGivesOtherNoiseAndTheSameSeedTheSame) {
  const std::string panel = pots("20 ms", {"a", "b"});
  const auto with_seed = [&](std::uint64_t seed) {
    DeviceBench bench(panel, {.seed = seed, .name = "seat", .whole_lines = false});
    bench.open();
    bench.run(seconds(2));
    return bench.received();
  };
  EXPECT_EQ(with_seed(1), with_seed(1));
  EXPECT_NE(with_seed(1), with_seed(2));
}

TEST(Independence, TheNameOfASeatKeysItsStreams) {
  const std::string panel = pots("20 ms", {"a", "b"});
  const auto with_name = [&](const std::string& name) {
    DeviceBench bench(panel, {.seed = 1, .name = name, .whole_lines = false});
    bench.open();
    bench.run(seconds(2));
    return bench.received();
  };
  EXPECT_NE(with_name("left"), with_name("right"));
}

TEST(Independence, ASilentControlDrawsNothing) {
  const MovedPartPlan perfect{.way = HandWay::kPresses, .contact = {.bounce_mean_ns = 0}};
  MovedPart still(perfect, 1, "key");
  const HandAction press{.control = 0, .to_ppm = kFullTravel};
  still.move(at_ms(1), press, perfect);
  EXPECT_TRUE(still.closed(at_ms(2), perfect.contact));
  EXPECT_EQ(still.noise.count(), 0U);
  Fingerprint moved;
  still.add_to(moved);
  // A second one that bounces has drawn, and only that makes the two differ.
  MovedPartPlan worn = perfect;
  worn.contact.bounce_mean_ns = 1'000'000;
  worn.contact.bounce_max_ns = 2'000'000;
  MovedPart chattering(worn, 1, "key");
  chattering.move(at_ms(1), press, worn);
  EXPECT_TRUE(chattering.closed(at_ms(4), worn.contact));
  Fingerprint drawn;
  chattering.add_to(drawn);
  EXPECT_NE(moved.value(), drawn.value());
}

TEST(Independence, ADeviceWithEveryPartItMayHaveStaysBelow32KiB) {
  std::string text =
      "panel = \"Large\"\n[board]\npreset = \"bootloader-8bit\"\n"
      "analogue_pins = [";
  for (int i = 0; i < 64; ++i) text += "\"X" + std::to_string(i) + "\",";
  text += "]\ndigital_pins = [";
  for (int i = 0; i < 128; ++i) text += "\"Y" + std::to_string(i) + "\",";
  text +=
      "]\npwm_pins = []\nserial_pins = []\ngroups = []\n[to_game]\nlongest = 1024\n"
      "[to_panel]\nlongest = 1024\n";
  std::string names;
  for (int i = 0; i < 64; ++i) {
    const std::string name = "c" + std::to_string(i);
    text += "[[control]]\nname = \"" + name + "\"\nkind = \"pot\"\n";
    text += "[[output]]\nname = \"o" + std::to_string(i) + "\"\nkind = \"lamp\"\n";
    names += "\"" + name + "\",";
  }
  text += "[[line]]\nto = \"game\"\ntext = \"{#name}={#value}\"\neach = [" + names +
          "]\nsend = { on_change = 1 }\n";
  const auto panel = panel_of(text);
  const std::size_t heap = kHandPartsMax * sizeof(MovedPart) + kFieldsMax * sizeof(std::int64_t) +
                           panel->description.controls.size() * sizeof(Decoded) +
                           Program(*panel).remembered_count() * sizeof(std::int64_t);
  EXPECT_LE(sizeof(Device) + heap, 32U * 1'024U);
  DeviceBench bench(panel);
  bench.open();
  bench.run(seconds(3));
  EXPECT_GT(bench.lines().size(), 64U);
}

}  // namespace
}  // namespace understudy
