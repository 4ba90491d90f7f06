/* The port library's part for tcsetattr(3): the modem lines of a port of ours stay as they are,
 * whatever older settings a game writes back. Apart from port.c because the system's two headers of
 * settings exclude each other. Linux, glibc. */
#define _GNU_SOURCE
#include "sim/link/port_library/port_settings.h"

#include <dlfcn.h>
#include <termios.h>

#include "sim/link/port_library/port_marks.h"

typedef int (*set_function)(int, int, const struct termios*);

__attribute__((visibility("default"))) int tcsetattr(int fd, int when,
                                                     const struct termios* settings) {
  set_function real;
  *(void**)&real = dlsym(RTLD_NEXT, "tcsetattr");
  unsigned char to_panel, to_game;
  if (!begin_keeping_lines(fd, &to_panel, &to_game)) return real(fd, when, settings);
  struct termios kept = *settings;
  kept.c_cc[UNDERSTUDY_SLOT_TO_PANEL] = to_panel;
  kept.c_cc[UNDERSTUDY_SLOT_TO_GAME] = to_game;
  const int result = real(fd, when, &kept);
  end_keeping_lines();
  return result;
}
