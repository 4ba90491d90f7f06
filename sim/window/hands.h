// What hands do at the window's face, whatever they use: mouse, fingers, keys, game controllers.
// All of it becomes hand actions; what the face shows of it are its marks. Numbers, names and times
// are handed in: no SDL, no ImGui, no clock.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
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
inline constexpr PointerId kMiddlePointer = -2;  // its middle button

// One game controller of several.
using PadId = std::int32_t;

struct Modifiers {
  bool fine = false;       // Shift: a tenth of the way
  bool wedge = false;      // Ctrl: what is pressed stays so
  bool push = false;       // the middle button: a stick is pressed, not leaned
  bool elsewhere = false;  // a card or menu has the keyboard: only the panel's own keys count
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
  // What is there, before anything else of a frame. Before a seat or panel that is another than
  // before all is let go at the old one, and wedges of controls that are gone are forgotten.
  void see(std::shared_ptr<const SessionView> view, std::size_t seat);

  // ---- pointers; places in mm of the face ----
  // True where there is something to take hold of.
  bool press(PointerId pointer, const Point& at, const Modifiers& modifiers);
  void move(PointerId pointer, const Point& at, const Modifiers& modifiers);
  void release(PointerId pointer);
  void hover(std::optional<Point> at);
  // One step a notch, up and away positive; fractions of notches add up.
  void wheel(const Point& at, float notches, const Modifiers& modifiers);
  // After the press: to the middle what has one and stays there (pots, sticks without springs).
  void double_click(const Point& at);

  // ---- keys, by the name of their place on the keyboard (see key_place) ----
  // True where the key means something to the panel or to the control that has the focus.
  bool key(std::string_view name, bool down, const Modifiers& modifiers);
  // To the next control in the order of reading, or the one before; past either end nobody has it.
  void step_focus(bool backwards);
  void drop_focus() { focus_.reset(); }
  [[nodiscard]] std::optional<std::uint16_t> focus() const { return focus_; }

  // ---- game controllers: "left y" from -1 (up) to 1, "a" 0 or 1 ----
  // Each moves what the panel names for any: where two lean the same axis, the one that leans it
  // further has it, and a button is up when the last one has let it go.
  void pad(PadId pad, std::string_view name, float value);
  // One was unplugged: it holds nothing.
  void pad_gone(PadId pad);
  void pads_gone();

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
  [[nodiscard]] bool moving() const;

  // Moves a part as a hand would, from a card or a menu.
  void put(std::uint16_t control, std::uint8_t part, std::int32_t to_ppm);
  [[nodiscard]] std::optional<FaceHit> part_at(const Point& at) const;
  [[nodiscard]] const std::shared_ptr<const Panel>& seen() const { return panel_; }
  [[nodiscard]] std::uint16_t seat() const { return seat_; }

  [[nodiscard]] std::vector<Wish> take_wishes();
  [[nodiscard]] FaceMarks marks() const;

 private:
  struct Grab {
    std::uint16_t control = 0;
    Point last;        // of the pointer, mm
    Point virtual_at;  // where the handle is meant to be, from the middle of the part
    float turned = 0;  // degrees, of what is turned round its middle
    std::int32_t start_ppm = 0;
    bool by_angle = false;
    bool moved = false;
    bool leans = false;  // a stick
  };
  // What a key moves as long as it is held.
  struct Steady {
    enum class Way : std::uint8_t { kGlides, kClicks, kLeans };
    HandTarget target;
    int direction = 0;
    bool fine = false;
    Way way = Way::kGlides;
    double next_click = 0;
  };
  struct Sent {
    std::int32_t ppm = 0;
    std::optional<double> seconds = std::nullopt;  // when it was taken
  };
  struct PadMove {
    std::string name;
    std::string source;
    float value = 0;  // of any controller
    float before = 0;
    bool pressed = false;  // by this one
  };
  struct Wheel {
    std::uint16_t control = 0;
    float notches = 0;
  };

  [[nodiscard]] const PanelDescription* panel() const;
  [[nodiscard]] const ControlDescription& control(std::uint16_t index) const;
  [[nodiscard]] std::int32_t position(std::uint16_t control, std::uint8_t part) const;
  [[nodiscard]] std::optional<FaceHit> control_at(const Point& at) const;
  [[nodiscard]] Point middle_of(std::uint16_t control) const;
  void send(std::uint16_t control, std::uint8_t part, std::int32_t to_ppm, Duration length);
  void turn(std::uint16_t control, int clicks);
  void hold(const HandTarget& target, const std::string& source);
  void let_go_source(const std::string& source);
  void forget_lost_wedges();
  void step(std::uint16_t control, float steps, bool fine);
  void begin_grab(Grab& grab, PointerId pointer, const FaceHit& hit, const Modifiers& modifiers);
  void drag(Grab& grab, const Point& moved, bool fine);
  void drag_round(Grab& grab, const Point& moved, bool fine);
  void end_grab(const Grab& grab);
  void spring_back(std::uint16_t control);
  bool key_of_panel(const std::string& name, const Modifiers& modifiers);
  bool key_of_focus(const std::string& name, const Modifiers& modifiers);
  void key_up(const std::string& name);
  void obey_key(std::uint16_t control, std::string_view what, const std::string& name, bool fine);
  void begin_steady(const std::string& name, const HandTarget& target, int direction, bool fine);
  void lean(const HandTarget& target);
  void glide(double passed);
  [[nodiscard]] float of_any_pad(std::string_view name) const;
  void pad_moves(std::uint16_t control, const PadMove& move);

  // saved:
  std::shared_ptr<const SessionView> view_;
  std::shared_ptr<const Panel> panel_;  // what is seen; null: nothing is
  FaceGeometry face_;
  std::uint16_t seat_ = 0;
  std::map<PointerId, Grab> grabs_;
  std::map<HandTarget, Sent> sent_;  // where what was sent takes a part
  Wheel wheel_;
  std::optional<PartId> hovered_;
  std::optional<std::uint16_t> focus_;
  std::set<std::string> held_;                           // keys
  std::map<std::string, Steady> steady_;                 // by key and part
  std::map<HandTarget, double> glides_;                  // where keys have brought a part, exactly
  std::map<HandTarget, std::set<std::string>> pressed_;  // by whom
  std::map<std::uint16_t, std::set<std::string>> wedges_;            // names of controls by seat
  std::map<PadId, std::map<std::string, float, std::less<>>> pads_;  // what isn't at rest
  std::map<HandTarget, double> free_at_;  // what was sent for a part has lasted long enough
  double seconds_ = 0;
  std::vector<Wish> wishes_;
};

// One name for each place of the keyboard: without capitals, "enter" is "return", what one types
// with Shift stands on its key of the US layout.
std::string key_place(std::string_view name);

}  // namespace understudy
