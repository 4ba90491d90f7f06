// The window's loop with a game controller and fingers, by SDL's own events: the window runs with
// SDL's driver that shows nothing, the test stands where the session would. What each hand means
// for each control is left to hands_pointer_test.cpp.
#include <SDL.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <sstream>
#include <thread>

#include "tests/sim/window/hands_bench.h"

#include "sim/window/window.h"

namespace understudy {
namespace {

constexpr int kWidth = 1'280;
constexpr int kHeight = 720;

// What the window wished so far, asked for on the test's thread while the window runs on the first.
class WindowBench : public testing::Test {
 protected:
  WindowBench() {
    SDL_setenv("SDL_VIDEODRIVER", "dummy", 1);
    SDL_setenv("SDL_AUDIODRIVER", "dummy", 1);
    places_file_ = testing::TempDir() + "hand_events_places.json";
    std::filesystem::remove(places_file_);
    SDL_setenv("UNDERSTUDY_WINDOW_PLACES", places_file_.c_str(), 1);
  }
  ~WindowBench() override {
    SDL_setenv("UNDERSTUDY_WINDOW_PLACES", "", 1);
    std::filesystem::remove(places_file_);
  }

  // Does `acts` beside the running window; then the session is over.
  void beside_the_window(const std::function<void()>& acts) {
    const WindowOptions options = {.width = kWidth, .height = kHeight, .scale = 1, .forget = true};
    const auto display = open_display(options);
    ASSERT_TRUE(display.ok());
    exchange_.publish(view_);
    std::thread actor([&] {
      if (until([&] { return std::filesystem::exists(places_file_); })) acts();
      exchange_.end_session();
    });
    const auto shown = run_window(options, exchange_);
    actor.join();
    EXPECT_TRUE(shown);
  }

  static bool until(const std::function<bool()>& look) {
    for (int i = 0; i < 1'000; ++i) {
      if (look()) return true;
      SDL_Delay(10);
    }
    ADD_FAILURE() << "not within ten seconds";
    return false;
  }
  static void rest() { SDL_Delay(150); }

  std::size_t wishes_for(std::uint16_t control) {
    take();
    return static_cast<std::size_t>(
        std::count_if(hands_.begin(), hands_.end(),
                      [&](const HandAction& one) { return one.control == control; }));
  }
  // Waits until the last wish for a part takes it there.
  bool comes_to(std::uint16_t control, std::uint8_t part, std::int32_t ppm) {
    return until([&] {
      take();
      for (auto one = hands_.rbegin(); one != hands_.rend(); ++one)
        if (one->control == control && one->part == part) return one->to_ppm == ppm;
      return false;
    });
  }

  // Where the middle of a part is, as shares of the window.
  [[nodiscard]] SDL_FPoint place(const std::string& name) const {
    const auto part = box("parts", name);
    const auto window = box("window", "window");
    return {((part[0] + part[2]) / 2 - window[0]) / kWidth,
            ((part[1] + part[3]) / 2 - window[1]) / kHeight};
  }

 private:
  void take() {
    for (const Wish& wish : exchange_.take_wishes())
      if (const auto* hand = std::get_if<HandWish>(&wish))
        for (const TimedHand& timed : hand->hands) hands_.push_back(timed.action);
  }

  // Left, top, right and bottom, of the file's {"parts": {"bell": [1, 2, 3, 4], ...}, ...}.
  [[nodiscard]] std::array<float, 4> box(const std::string& kind, const std::string& name) const {
    std::ifstream file(places_file_);
    const std::string places{std::istreambuf_iterator<char>(file), {}};
    const std::size_t boxes = places.find("\"" + kind + "\":");
    const std::size_t found = places.find("\"" + name + "\":", boxes + kind.size());
    std::istringstream numbers(places.substr(places.find('[', found) + 1, 100));
    std::array<float, 4> sides = {};
    char comma = 0;
    for (float& side : sides) numbers >> side >> comma;
    return sides;
  }

  std::shared_ptr<const Panel> panel_ = hands_panel();
  std::shared_ptr<const SessionView> view_ = hands_view({panel_});
  Exchange exchange_;
  std::string places_file_;
  std::vector<HandAction> hands_;
};

// One of SDL's virtual game controllers: its buttons are in SDL's order, so 0 is "a".
class VirtualPad {
 public:
  VirtualPad()
      : index_(SDL_JoystickAttachVirtual(SDL_JOYSTICK_TYPE_GAMECONTROLLER, SDL_CONTROLLER_AXIS_MAX,
                                         SDL_CONTROLLER_BUTTON_MAX, 0)) {
    SDL_LockJoysticks();
    id_ = SDL_JoystickGetDeviceInstanceID(index_);
    SDL_UnlockJoysticks();
  }
  [[nodiscard]] bool opened() const { return index_ >= 0 && joystick() != nullptr; }
  void axis(SDL_GameControllerAxis axis, Sint16 value) const {
    SDL_JoystickSetVirtualAxis(joystick(), axis, value);
  }
  void button(SDL_GameControllerButton button, bool down) const {
    SDL_JoystickSetVirtualButton(joystick(), button, down ? 1 : 0);
  }
  void unplug() const {
    for (int index = 0; index < SDL_NumJoysticks(); ++index)
      if (SDL_JoystickGetDeviceInstanceID(index) == id_) {
        SDL_JoystickDetachVirtual(index);
        return;
      }
  }

 private:
  [[nodiscard]] SDL_Joystick* joystick() const { return SDL_JoystickFromInstanceID(id_); }
  int index_;
  SDL_JoystickID id_ = -1;
};

TEST_F(WindowBench, GameControllersAreHeardWithoutTheKeyboardsFocusAndPluggedAtAnyTime) {
  beside_the_window([&] {
    const VirtualPad first;
    ASSERT_TRUE(until([&] { return first.opened(); })) << SDL_GetError();
    EXPECT_EQ(SDL_GetKeyboardFocus(), nullptr) << "with it, nothing is shown of the background";
    first.button(SDL_CONTROLLER_BUTTON_A, true);
    EXPECT_TRUE(comes_to(kBell, 0, kFullTravel));
    first.axis(SDL_CONTROLLER_AXIS_LEFTX, 32'767);
    EXPECT_TRUE(comes_to(kLever, 0, kFullTravel));

    const VirtualPad second;
    ASSERT_TRUE(until([&] { return second.opened(); }));
    second.button(SDL_CONTROLLER_BUTTON_A, true);
    rest();
    const std::size_t before = wishes_for(kBell);
    first.button(SDL_CONTROLLER_BUTTON_A, false);
    rest();
    EXPECT_EQ(wishes_for(kBell), before) << "the other one holds it still";
    second.unplug();
    EXPECT_TRUE(comes_to(kBell, 0, 0));
    first.unplug();
    EXPECT_TRUE(comes_to(kLever, 0, kFullTravel / 2));
  });
}

void finger(Uint32 type, SDL_FingerID id, SDL_FPoint at) {
  SDL_Event event = {};
  event.type = type;
  event.tfinger.touchId = 1;
  event.tfinger.fingerId = id;
  event.tfinger.x = at.x;
  event.tfinger.y = at.y;
  SDL_PushEvent(&event);
}

// What SDL adds of its own for the first finger (SDL_touch.c makes it of device SDL_TOUCH_MOUSEID).
void mouse_of_finger(Uint32 type, SDL_FPoint at) {
  SDL_Event event = {};
  event.type = SDL_MOUSEMOTION;
  event.motion.which = SDL_TOUCH_MOUSEID;
  event.motion.windowID = 1;
  event.motion.x = static_cast<int>(at.x * kWidth);
  event.motion.y = static_cast<int>(at.y * kHeight);
  SDL_PushEvent(&event);
  if (type == SDL_MOUSEMOTION) return;
  event = {};
  event.type = type;
  event.button.which = SDL_TOUCH_MOUSEID;
  event.button.windowID = 1;
  event.button.button = SDL_BUTTON_LEFT;
  event.button.state = type == SDL_MOUSEBUTTONDOWN ? SDL_PRESSED : SDL_RELEASED;
  event.button.x = static_cast<int>(at.x * kWidth);
  event.button.y = static_cast<int>(at.y * kHeight);
  SDL_PushEvent(&event);
}

TEST_F(WindowBench, TwoFingersHoldTwoControlsAndTheFirstIsCountedOnce) {
  beside_the_window([&] {
    rest();
    const SDL_FPoint bell = place("bell");
    const SDL_FPoint doors = place("doors");
    finger(SDL_FINGERDOWN, 11, doors);
    mouse_of_finger(SDL_MOUSEBUTTONDOWN, doors);
    ASSERT_TRUE(comes_to(kDoors, 0, kFullTravel));
    finger(SDL_FINGERDOWN, 12, bell);
    ASSERT_TRUE(comes_to(kBell, 0, kFullTravel));
    rest();
    EXPECT_EQ(wishes_for(kDoors), 1U) << "a switch counted twice is where it was";
    EXPECT_EQ(wishes_for(kBell), 1U);

    finger(SDL_FINGERUP, 11, doors);
    mouse_of_finger(SDL_MOUSEBUTTONUP, doors);
    rest();
    EXPECT_EQ(wishes_for(kBell), 1U) << "the second finger is down still";
    finger(SDL_FINGERUP, 12, bell);
    EXPECT_TRUE(comes_to(kBell, 0, 0)) << "though the first was lifted before it";
  });
}

TEST_F(WindowBench, AFingerThatIsNotTheMouseDragsToTheEnd) {
  beside_the_window([&] {
    rest();
    const SDL_FPoint bell = place("bell");
    const SDL_FPoint crane = place("crane");
    finger(SDL_FINGERDOWN, 1, bell);
    mouse_of_finger(SDL_MOUSEBUTTONDOWN, bell);
    ASSERT_TRUE(comes_to(kBell, 0, kFullTravel));
    finger(SDL_FINGERDOWN, 2, crane);
    for (int i = 1; i <= 20; ++i)
      finger(SDL_FINGERMOTION, 2, {crane.x + 0.02F * static_cast<float>(i), crane.y});
    EXPECT_TRUE(comes_to(kCrane, 0, kFullTravel));
    finger(SDL_FINGERUP, 2, crane);
    finger(SDL_FINGERUP, 1, bell);
    mouse_of_finger(SDL_MOUSEBUTTONUP, bell);
    EXPECT_TRUE(comes_to(kBell, 0, 0));
  });
}

}  // namespace
}  // namespace understudy
