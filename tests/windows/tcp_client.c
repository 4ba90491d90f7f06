// A game for Windows, by its own sockets: connects, reads lines and prints them, and sends a line
// of lamps for every tenth. Knows nothing of the panel but that.
//
//   tcp_client PLACE LINES LAMPS [STATUS]      PLACE: a port of this machine, or HOST:PORT
//
// "-" as PLACE takes it from UNDERSTUDY_TCP. Ends with STATUS, or 9 where the connection ends
// early. LINES 0 reads until it is ended.
#include <winsock2.h>

#include <fcntl.h>
#include <io.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static SOCKET connect_to(const char* place) {
  char host[64] = "127.0.0.1";
  const char* colon = strrchr(place, ':');
  const char* port = colon != NULL ? colon + 1 : place;
  if (colon != NULL) snprintf(host, sizeof host, "%.*s", (int)(colon - place), place);
  struct sockaddr_in address = {0};
  address.sin_family = AF_INET;
  address.sin_port = htons((u_short)atoi(port));
  address.sin_addr.s_addr = inet_addr(host);
  SOCKET socket_of_game = socket(AF_INET, SOCK_STREAM, IPPROTO_TCP);
  if (connect(socket_of_game, (struct sockaddr*)&address, sizeof address) != 0) {
    fprintf(stderr, "cannot connect to %s: winsock error %d\n", place, WSAGetLastError());
    exit(8);
  }
  return socket_of_game;
}

int main(int count, char** words) {
  if (count < 4) return 7;
  _setmode(_fileno(stdout), _O_BINARY);
  WSADATA data;
  if (WSAStartup(MAKEWORD(2, 2), &data) != 0) return 7;
  const char* place = strcmp(words[1], "-") == 0 ? getenv("UNDERSTUDY_TCP") : words[1];
  if (place == NULL) return 6;
  const SOCKET game = connect_to(place);
  const int wanted = atoi(words[2]);
  char lamps[256];
  snprintf(lamps, sizeof lamps, "%s\n", words[3]);
  for (int lines = 0; wanted == 0 || lines < wanted;) {
    char buffer[256];
    const int got = recv(game, buffer, sizeof buffer, 0);
    if (got <= 0) return 9;
    fwrite(buffer, 1, (size_t)got, stdout);
    fflush(stdout);
    for (int i = 0; i < got; ++i) {
      if (buffer[i] != '\n' || ++lines % 10 != 0) continue;
      if (send(game, lamps, (int)strlen(lamps), 0) < 0) return 9;
    }
  }
  closesocket(game);
  return count > 4 ? atoi(words[4]) : 0;
}
