/* The port library: loaded into a game (LD_PRELOAD) it answers the modem-line ioctls that a
 * pseudo-terminal refuses, on those alone that carry our mark. The lines are kept in the terminal's
 * own settings (port_marks.h), so nothing else has to be shared with the link; settings that the
 * game makes leave them alone. tcsetattr is in port_settings.c. Linux, glibc. */
#define _GNU_SOURCE
#include <asm/ioctls.h>
#include <asm/termbits.h>
#include <dlfcn.h>
#include <errno.h>
#include <pthread.h>
#include <stdarg.h>
#include <string.h>
#include <sys/types.h>
#include <time.h>

#include "sim/link/port_library/port_marks.h"
#include "sim/link/port_library/port_settings.h"

/* From sys/ioctl.h, which excludes asm/termbits.h on some systems. */
#define LINE_DTR 0x002
#define LINE_RTS 0x004
#define LINE_CTS 0x020
#define LINE_DCD 0x040
#define LINE_RI 0x080
#define LINE_DSR 0x100

typedef int (*ioctl_function)(int, unsigned long, ...);

static ioctl_function system_ioctl(void) {
  static ioctl_function found = NULL;
  ioctl_function function = __atomic_load_n(&found, __ATOMIC_ACQUIRE);
  if (function == NULL) {
    *(void**)&function = dlsym(RTLD_NEXT, "ioctl");
    __atomic_store_n(&found, function, __ATOMIC_RELEASE);
  }
  return function;
}

/* One change of the settings at a time: reading and writing them are two calls. */
static pthread_mutex_t changing = PTHREAD_MUTEX_INITIALIZER;

/* True where `fd` is a pseudo-terminal of ours; its settings are then in `settings`. */
static int is_ours(int fd, struct termios2* settings) {
  return system_ioctl()(fd, TCGETS2, settings) == 0 &&
         (settings->c_cc[UNDERSTUDY_SLOT_TO_GAME] & UNDERSTUDY_MARK_BITS) ==
             UNDERSTUDY_MARK_TO_GAME;
}

/* All six lines, as TIOCMGET gives them. */
static int lines_in(const struct termios2* settings) {
  const unsigned to_panel = settings->c_cc[UNDERSTUDY_SLOT_TO_PANEL];
  const unsigned to_game = settings->c_cc[UNDERSTUDY_SLOT_TO_GAME];
  int lines = 0;
  if ((to_panel & UNDERSTUDY_MARK_BITS) != UNDERSTUDY_MARK_TO_PANEL) {
    lines = LINE_DTR | LINE_RTS; /* never set: opening raised both */
  } else {
    if (to_panel & UNDERSTUDY_LINE_DTR) lines |= LINE_DTR;
    if (to_panel & UNDERSTUDY_LINE_RTS) lines |= LINE_RTS;
  }
  if (to_game & UNDERSTUDY_LINE_CTS) lines |= LINE_CTS;
  if (to_game & UNDERSTUDY_LINE_DSR) lines |= LINE_DSR;
  if (to_game & UNDERSTUDY_LINE_DCD) lines |= LINE_DCD;
  if (to_game & UNDERSTUDY_LINE_RI) lines |= LINE_RI;
  return lines;
}

static int put_lines(int fd, struct termios2* settings, int lines) {
  unsigned char slot = UNDERSTUDY_MARK_TO_PANEL;
  if (lines & LINE_DTR) slot |= UNDERSTUDY_LINE_DTR;
  if (lines & LINE_RTS) slot |= UNDERSTUDY_LINE_RTS;
  settings->c_cc[UNDERSTUDY_SLOT_TO_PANEL] = slot;
  return system_ioctl()(fd, TCSETS2, settings);
}

/* Blocks until one of the asked lines from the board changes, as the real call does. */
static int wait_for_change(int fd, struct termios2* settings, int asked) {
  const struct timespec look = {.tv_sec = 0, .tv_nsec = 10 * 1000 * 1000};
  const int before = lines_in(settings);
  for (;;) {
    if (nanosleep(&look, NULL) != 0) return -1; /* EINTR */
    if (!is_ours(fd, settings)) {
      errno = EIO;
      return -1;
    }
    if ((lines_in(settings) ^ before) & asked & (LINE_CTS | LINE_DSR | LINE_DCD | LINE_RI)) {
      return 0;
    }
  }
}

static int change_lines(int fd, unsigned long request, int bits) {
  struct termios2 settings;
  pthread_mutex_lock(&changing);
  int result = -1;
  if (is_ours(fd, &settings)) {
    const int lines = lines_in(&settings);
    if (request == TIOCMSET) result = put_lines(fd, &settings, bits);
    if (request == TIOCMBIS) result = put_lines(fd, &settings, lines | bits);
    if (request == TIOCMBIC) result = put_lines(fd, &settings, lines & ~bits);
  } else {
    errno = ENOTTY;
  }
  pthread_mutex_unlock(&changing);
  return result;
}

/* Tried only after the system refused, so that real ports and everything else go untouched. */
static int answer(int fd, unsigned long request, void* argument) {
  struct termios2 settings;
  if (request == TIOCMGET || request == TIOCMIWAIT) {
    if (!is_ours(fd, &settings)) {
      errno = ENOTTY;
      return -1;
    }
    if (request == TIOCMIWAIT) return wait_for_change(fd, &settings, (int)(long)argument);
    *(int*)argument = lines_in(&settings);
    return 0;
  }
  return change_lines(fd, request, *(const int*)argument);
}

/* Looks before it locks: tcsetattr may be called by a signal handler, for the game's own terminal.
 */
int begin_keeping_lines(int fd, unsigned char* to_panel, unsigned char* to_game) {
  const int error = errno;
  struct termios2 now;
  int ours = is_ours(fd, &now);
  if (ours) {
    pthread_mutex_lock(&changing);
    ours = is_ours(fd, &now);
    if (!ours) pthread_mutex_unlock(&changing);
  }
  if (ours) {
    *to_panel = now.c_cc[UNDERSTUDY_SLOT_TO_PANEL];
    *to_game = now.c_cc[UNDERSTUDY_SLOT_TO_GAME];
  }
  errno = error;
  return ours;
}

void end_keeping_lines(void) {
  const int error = errno;
  pthread_mutex_unlock(&changing);
  errno = error;
}

/* Writes settings without their slots. TCSETS and its kin take a termios, of which a termios2 is
 * the continuation. */
static int set_all_but_lines(int fd, unsigned long request, const void* settings, size_t size) {
  unsigned char to_panel, to_game;
  if (settings == NULL || !begin_keeping_lines(fd, &to_panel, &to_game)) {
    return system_ioctl()(fd, request, settings);
  }
  struct termios2 kept;
  memcpy(&kept, settings, size);
  kept.c_cc[UNDERSTUDY_SLOT_TO_PANEL] = to_panel;
  kept.c_cc[UNDERSTUDY_SLOT_TO_GAME] = to_game;
  const int result = system_ioctl()(fd, request, &kept);
  end_keeping_lines();
  return result;
}

__attribute__((visibility("default"))) int ioctl(int fd, unsigned long request, ...) {
  va_list arguments;
  va_start(arguments, request);
  void* argument = va_arg(arguments, void*);
  va_end(arguments);
  switch (request) {
    case TCSETS:
    case TCSETSW:
    case TCSETSF:
      return set_all_but_lines(fd, request, argument, sizeof(struct termios));
    case TCSETS2:
    case TCSETSW2:
    case TCSETSF2:
      return set_all_but_lines(fd, request, argument, sizeof(struct termios2));
    default:
      break;
  }
  const int result = system_ioctl()(fd, request, argument);
  if (result != -1 || (errno != ENOTTY && errno != EINVAL)) return result;
  switch (request) {
    case TIOCMGET:
    case TIOCMSET:
    case TIOCMBIS:
    case TIOCMBIC:
    case TIOCMIWAIT:
      return answer(fd, request, argument);
    default:
      return result;
  }
}
