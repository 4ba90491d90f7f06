// What hands do at the window's face, whatever they use: mouse, fingers, keys, game controllers.
// All of it becomes hand actions; what the face shows of it are its marks. Numbers, names and times
// are handed in: no SDL, no ImGui, no clock.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "sim/window/face.h"
#include "sim/window/session_view.h"
#include "sim/window/wishes.h"

namespace understudy {

// A mouse is one pointer, and so is each finger.
using PointerId = std::int64_t;
inline constexpr PointerId kMousePointer = -1;

struct Modifiers {
  bool fine = false;   // Shift: a tenth of the way
  bool wedge = false;  // Ctrl: what is pressed stays so
};

// Which part of which control of a seat.
struct HandTarget {
  std::uint16_t seat = 0;
  std::uint16_t control = 0;
  std::uint8_t part = 0;
  auto operator<=>(const HandTarget&) const = default;
};

// Thread: the window's.
class Hands {
 public:
  // What is there, before anything else of a frame. A seat or panel that is another than before:
  // all is let go, and wedges of controls that are gone are forgotten.
  void see(const SessionView& view, std::size_t seat, const FaceGeometry& face);

  // ---- pointers; places in mm of the face ----
  // True where there is something to take hold of.
  bool press(PointerId pointer, const Point& at, const Modifiers& modifiers);
  void move(PointerId pointer, const Point& at, const Modifiers& modifiers);
  void release(PointerId pointer);
  void hover(std::optional<Point> at);
  // One step a notch, up and away positive.
  void wheel(const Point& at, float notches, const Modifiers& modifiers);
  void double_click(const Point& at);

  // ---- keys, by the name of their place on the keyboard (SDL's scancode names) ----
  // True where the key means something to the panel or to the control that has the focus.
  bool key(std::string_view name, bool down, const Modifiers& modifiers);
  // To the next control in the order of reading, or the one before; past either end nobody has it.
  void step_focus(bool backwards);
  void drop_focus() { focus_.reset(); }
  [[nodiscard]] std::optional<std::uint16_t> focus() const { return focus_; }

  // ---- game controllers, whichever: "left y" from -1 (up) to 1, "a" 0 or 1 ----
  void pad(std::string_view name, float value);

  // A button or switch is held by a wedge, or no longer.
  void set_wedge(std::uint16_t control, bool wedged);
  [[nodiscard]] bool wedged(std::uint16_t control) const;

  // Keys and pointers are gone (another window has the keyboard): all is let go but wedges.
  void let_go();
  // Keys alone, as the mouse still has what it holds.
  void let_go_keys();

  // Once a frame: what keys that are held move meanwhile.
  void advance(double seconds);
  // Something is held that goes on moving.
  [[nodiscard]] bool moving() const { return !held_.empty() && !steady_.empty(); }

  [[nodiscard]] std::vector<Wish> take_wishes();
  [[nodiscard]] FaceMarks marks() const;

 private:
  struct Grab {
    std::uint16_t control = 0;
    Point last;        // of the pointer, mm
    Point virtual_at;  // where the handle is meant to be, from the middle of the part
    float turned = 0;  // degrees, of what is turned round its middle
    float clicks = 0;  // of an encoder, not yet sent
    std::int32_t start_ppm = 0;
    bool by_angle = false;
    bool moved = false;
    bool presses = false;  // it holds a button (of a stick too) down
  };
  struct Steady {
    HandTarget target;
    double ppm = 0;
    int direction = 0;
    bool fine = false;
    double next_click = 0;
  };

  [[nodiscard]] const PanelDescription* panel() const;
  [[nodiscard]] const ControlDescription& control(std::uint16_t index) const;
  [[nodiscard]] std::int32_t position(std::uint16_t control, std::uint8_t part) const;
  [[nodiscard]] std::optional<FaceHit> control_at(const Point& at) const;
  [[nodiscard]] Point middle_of(std::uint16_t control) const;
  void send(std::uint16_t control, std::uint8_t part, std::int32_t to_ppm, Duration length);
  void turn(std::uint16_t control, int clicks);
  void set_pressed(std::uint16_t control, std::uint8_t part, bool pressed);
  void step(std::uint16_t control, float steps, bool fine);
  void begin_grab(Grab& grab, const FaceHit& hit, const Modifiers& modifiers);
  void drag(Grab& grab, const Point& moved, bool fine);
  void drag_round(Grab& grab, const Point& moved, bool fine);
  void end_grab(const Grab& grab);
  void spring_back(std::uint16_t control);
  bool key_of_panel(const std::string& name, bool down, const Modifiers& modifiers);
  bool key_of_focus(const std::string& name, bool down, const Modifiers& modifiers);
  void obey_key(std::uint16_t control, std::string_view what, const std::string& name, bool down,
                bool fine);
  void begin_steady(const std::string& name, const HandTarget& target, int direction, bool fine);

  // borrowed until the next see():
  const SessionView* view_ = nullptr;
  const FaceGeometry* face_ = nullptr;
  // saved:
  std::uint16_t seat_ = 0;
  std::string panel_name_;
  std::size_t control_count_ = 0;
  std::map<PointerId, Grab> grabs_;
  std::map<HandTarget, std::int32_t> sent_;  // where what was sent takes a part
  std::optional<PartId> hovered_;
  std::optional<std::uint16_t> focus_;
  std::set<std::string> held_;                               // keys
  std::map<std::string, Steady> steady_;                     // by key: what it moves meanwhile
  std::set<HandTarget> pressed_;                             // by whatever
  std::map<std::uint16_t, std::set<std::uint16_t>> wedges_;  // by seat
  std::map<std::string, float, std::less<>> pads_;
  double seconds_ = 0;
  std::vector<Wish> wishes_;
};

}  // namespace understudy
