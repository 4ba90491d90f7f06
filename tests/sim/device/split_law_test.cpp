// The law on which everything stands: step(a), step(b) gives together what step(b) gives, byte for
// byte, due for due, note for note, fingerprint for fingerprint.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <span>

#include "tests/sim/device/random_device.h"

namespace understudy {
namespace {

// Everything that a device gave, in a form that compares and prints.
struct Story {
  std::string bytes;
  std::vector<std::tuple<std::int64_t, std::size_t, std::size_t>> chunks;
  std::vector<std::tuple<std::int64_t, std::uint16_t, std::int64_t>> changes;
  std::vector<std::tuple<std::int64_t, std::string, std::int64_t>> notes;
  std::uint64_t fingerprint = 0;
  bool operator==(const Story&) const = default;
};

Story story_of(const Device& device, const StepOutputs& outputs) {
  Story story{.bytes = outputs.bytes, .chunks = {}, .changes = {}, .notes = {}, .fingerprint = 0};
  for (const Chunk& chunk : outputs.chunks)
    story.chunks.emplace_back(chunk.due.ns, chunk.first, chunk.size);
  for (const OutputChange& change : outputs.changes)
    story.changes.emplace_back(change.due.ns, change.output, change.number);
  for (const Note& note : outputs.notes)
    story.notes.emplace_back(note.due.ns, std::string(name_of(note.kind)), note.count);
  story.fingerprint = device.fingerprint();
  return story;
}

std::span<const Input> take_until(std::span<const Input>& inputs, Instant t) {
  std::size_t count = 0;
  while (count < inputs.size() && inputs[count].at <= t) ++count;
  const auto taken = inputs.first(count);
  inputs = inputs.subspan(count);
  return taken;
}

Story lived_at_once(const RandomLife& life) {
  Device device(life.panel, life.options);
  StepOutputs outputs;
  device.step(life.end, life.inputs, outputs);
  return story_of(device, outputs);
}

void expect_same(const Story& split, const Story& whole) {
  RC_ASSERT(split.chunks == whole.chunks);
  RC_ASSERT(split.changes == whole.changes);
  RC_ASSERT(split.notes == whole.notes);
  RC_ASSERT(split.bytes == whole.bytes);
  RC_ASSERT(split.fingerprint == whole.fingerprint);
}

TEST(SplitLaw, HoldsForEveryDeviceSplitAnywhere) {
  EXPECT_TRUE(rc::check("split anywhere", [] {
    const RandomLife life = draw_life();
    Device device(life.panel, life.options);
    StepOutputs outputs;
    std::span<const Input> inputs = life.inputs;
    std::vector<Instant> steps = draw_splits(life.inputs, life.end);
    steps.push_back(life.end);
    for (const Instant t : steps) device.step(t, take_until(inputs, t), outputs);
    expect_same(story_of(device, outputs), lived_at_once(life));
  }));
}

// As the pacer steps it: to whatever comes first.
TEST(SplitLaw, HoldsWhenSteppedFromDueToDueAndNothingIsSeenBeforeItsDue) {
  EXPECT_TRUE(rc::check("from due to due", [] {
    const RandomLife life = draw_life();
    Device device(life.panel, life.options);
    StepOutputs outputs;
    std::span<const Input> inputs = life.inputs;
    while (device.now() < life.end) {
      const Instant due = device.next_due();
      const Instant input = inputs.empty() ? kNever : inputs.front().at;
      const std::size_t chunks = outputs.chunks.size();
      const std::size_t changes = outputs.changes.size();
      const Instant before{earlier(earlier(due, input), life.end).ns - 1};
      if (before > device.now()) {
        device.step(before, {}, outputs);
        RC_ASSERT(outputs.chunks.size() == chunks);
        RC_ASSERT(outputs.changes.size() == changes);
      }
      const Instant t = earlier(life.end, device.now() + nanoseconds(1));
      device.step(t, take_until(inputs, t), outputs);
    }
    expect_same(story_of(device, outputs), lived_at_once(life));
  }));
}

TEST(SplitLaw, ACopyGoesOnAlikeAndLeavesTheOriginalAlone) {
  EXPECT_TRUE(rc::check("copies", [] {
    const RandomLife life = draw_life();
    Device device(life.panel, life.options);
    StepOutputs outputs;
    std::span<const Input> inputs = life.inputs;
    const Instant half = draw_splits(life.inputs, life.end + nanoseconds(2)).empty()
                             ? Instant{1}
                             : Instant{life.end.ns / 2 + 1};
    device.step(half, take_until(inputs, half), outputs);
    const std::uint64_t at_half = device.fingerprint();

    Device copy = device;
    StepOutputs outputs_of_copy = outputs;
    RC_ASSERT(copy.fingerprint() == at_half);
    copy.step(later(life.end, half), inputs, outputs_of_copy);
    RC_ASSERT(device.fingerprint() == at_half);
    device.step(later(life.end, half), inputs, outputs);
    expect_same(story_of(copy, outputs_of_copy), story_of(device, outputs));
  }));
}

TEST(SplitLaw, HowTheBytesOfOneInstantWereCutIntoReadsNeverMatters) {
  EXPECT_TRUE(rc::check("cut bytes", [] {
    RandomLife life = draw_life();
    const Story whole = lived_at_once(life);
    std::vector<Input> cut;
    for (const Input& input : life.inputs) {
      const auto* bytes = std::get_if<BytesFromGame>(&input.what);
      if (bytes == nullptr || bytes->bytes.size() < 2) {
        cut.push_back(input);
        continue;
      }
      const auto at = static_cast<std::size_t>(
          draw_between(1, static_cast<std::int64_t>(bytes->bytes.size()) - 1));
      cut.push_back({input.at, BytesFromGame{bytes->bytes.substr(0, at)}});
      cut.push_back({input.at, BytesFromGame{bytes->bytes.substr(at)}});
    }
    life.inputs = cut;
    expect_same(lived_at_once(life), whole);
  }));
}

TEST(SplitLaw, TimesOfWhatComesOutNeverGoBackAndNeverLieOutsideOfTheStep) {
  EXPECT_TRUE(rc::check("ascending", [] {
    const RandomLife life = draw_life();
    Device device(life.panel, life.options);
    std::span<const Input> inputs = life.inputs;
    std::vector<Instant> steps = draw_splits(life.inputs, life.end);
    steps.push_back(life.end);
    for (const Instant t : steps) {
      const Instant from = device.now();
      StepOutputs outputs;
      device.step(t, take_until(inputs, t), outputs);
      // The first step has what happens at power-on itself.
      const auto lies_within = [&](Instant due) {
        return (due > from || from == Instant{}) && due <= t;
      };
      Instant last = from;
      for (const Chunk& chunk : outputs.chunks) {
        RC_LOG() << "chunk at " << chunk.due.ns << " after " << last.ns << " in a step from "
                 << from.ns << " to " << t.ns << "\n";
        RC_ASSERT(chunk.due >= last && lies_within(chunk.due));
        RC_ASSERT(chunk.size > 0U);
        last = chunk.due;
      }
      last = from;
      for (const OutputChange& change : outputs.changes) {
        RC_ASSERT(change.due >= last && lies_within(change.due));
        last = change.due;
      }
      for (const Note& note : outputs.notes) {
        RC_LOG() << name_of(note.kind) << " at " << note.due.ns << " in a step from " << from.ns
                 << " to " << t.ns << "\n";
        RC_ASSERT(lies_within(note.due));
      }
    }
  }));
}

}  // namespace
}  // namespace understudy
