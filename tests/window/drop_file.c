/* Drops a file onto whatever window lies at a place of the display, as a file manager would: the
 * source's part of the XDND protocol, version 5 (freedesktop.org). Usage: drop_file X Y FILE.
 * Status 0 when the window has taken it. */
#include <X11/Xatom.h>
#include <X11/Xlib.h>
#include <X11/Xutil.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static Display* display;
static Window source;

static Atom atom(const char* name) { return XInternAtom(display, name, False); }

/* The innermost window there that says it takes drops. */
static Window window_at(int x, int y) {
  Window root = DefaultRootWindow(display);
  Window at = root;
  Window taker = None;
  for (;;) {
    Window child = None;
    int inside_x, inside_y;
    Atom type;
    int format;
    unsigned long count, left;
    unsigned char* data = NULL;
    XGetWindowProperty(display, at, atom("XdndAware"), 0, 1, False, AnyPropertyType, &type, &format,
                       &count, &left, &data);
    if (data != NULL) XFree(data);
    if (type != None) taker = at;
    XTranslateCoordinates(display, root, at, x, y, &inside_x, &inside_y, &child);
    if (child == None) return taker;
    at = child;
  }
}

static void tell(Window target, const char* what, long one, long two, long three, long four) {
  XEvent event;
  memset(&event, 0, sizeof event);
  event.xclient.type = ClientMessage;
  event.xclient.display = display;
  event.xclient.window = target;
  event.xclient.message_type = atom(what);
  event.xclient.format = 32;
  event.xclient.data.l[0] = (long)source;
  event.xclient.data.l[1] = one;
  event.xclient.data.l[2] = two;
  event.xclient.data.l[3] = three;
  event.xclient.data.l[4] = four;
  XSendEvent(display, target, False, NoEventMask, &event);
  XFlush(display);
}

/* Hands the file's address over, when the window asks for what is dropped. */
static void answer(const XSelectionRequestEvent* request, const char* address) {
  XEvent event;
  memset(&event, 0, sizeof event);
  XChangeProperty(display, request->requestor, request->property, request->target, 8,
                  PropModeReplace, (const unsigned char*)address, (int)strlen(address));
  event.xselection.type = SelectionNotify;
  event.xselection.display = display;
  event.xselection.requestor = request->requestor;
  event.xselection.selection = request->selection;
  event.xselection.target = request->target;
  event.xselection.property = request->property;
  event.xselection.time = request->time;
  XSendEvent(display, request->requestor, False, NoEventMask, &event);
  XFlush(display);
}

/* 0 when the window says that it has finished, 1 after five seconds. */
static int serve(Window target, const char* address) {
  int tenths, dropped = 0;
  for (tenths = 0; tenths < 50; ++tenths) {
    while (XPending(display) > 0) {
      XEvent event;
      XNextEvent(display, &event);
      if (event.type == SelectionRequest) answer(&event.xselectionrequest, address);
      if (event.type != ClientMessage) continue;
      if (event.xclient.message_type == atom("XdndFinished")) return 0;
      if (event.xclient.message_type == atom("XdndStatus") && !dropped) {
        dropped = 1;
        tell(target, "XdndDrop", 0, CurrentTime, 0, 0);
      }
    }
    usleep(100000);
  }
  return 1;
}

int main(int argc, char** argv) {
  static char address[5000];
  Window target;
  int x, y;
  if (argc != 4) return 2;
  x = atoi(argv[1]);
  y = atoi(argv[2]);
  display = XOpenDisplay(NULL);
  if (display == NULL) return 2;
  snprintf(address, sizeof address, "file://%s\r\n", argv[3]);
  source = XCreateSimpleWindow(display, DefaultRootWindow(display), 0, 0, 1, 1, 0, 0, 0);
  target = window_at(x, y);
  if (target == None) return 3;
  XSetSelectionOwner(display, atom("XdndSelection"), source, CurrentTime);
  tell(target, "XdndEnter", 5L << 24, (long)atom("text/uri-list"), None, None);
  tell(target, "XdndPosition", 0, ((long)x << 16) | y, CurrentTime, (long)atom("XdndActionCopy"));
  return serve(target, address);
}
