/* What the two files of the port library share: keeping the modem lines while settings change. */
#pragma once

/* Where `fd` is a pseudo-terminal of ours: 1, its two slots as they are, and no modem line changes
 * until end_keeping_lines(). Else 0, and end_keeping_lines() is not to be called. errno stays. */
int begin_keeping_lines(int fd, unsigned char* to_panel, unsigned char* to_game);
/* errno stays. */
void end_keeping_lines(void);
