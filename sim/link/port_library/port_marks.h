/* Where the modem lines of a pseudo-terminal of ours are kept: in two places of its own termios
 * that the kernel carries but does not use. Shared by the link and the port library; C and C++. */
#pragma once

/* The kernel's table of control characters has 19 places on Linux; it knows 17 of them (0..16). */
#define UNDERSTUDY_SLOT_TO_PANEL 17 /* written by the port library: what the game drives */
#define UNDERSTUDY_SLOT_TO_GAME 18  /* written by the link: the mark, and what the board drives */

/* Upper half: the mark. Lower half: the lines. */
#define UNDERSTUDY_MARK_TO_PANEL 0x50
#define UNDERSTUDY_MARK_TO_GAME 0xa0
#define UNDERSTUDY_MARK_BITS 0xf0

#define UNDERSTUDY_LINE_DTR 0x01
#define UNDERSTUDY_LINE_RTS 0x02

#define UNDERSTUDY_LINE_CTS 0x01
#define UNDERSTUDY_LINE_DSR 0x02
#define UNDERSTUDY_LINE_DCD 0x04
#define UNDERSTUDY_LINE_RI 0x08
