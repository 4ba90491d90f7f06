/* The names library: loaded into a game (LD_PRELOAD) it lets serial libraries that look a port up
 * under /sys/class/tty find the pseudo-terminals named in UNDERSTUDY_PORTS (paths such as
 * /dev/pts/5, parted by colons), and list them. Everything else goes to the system. Linux, glibc.
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define CLASS_FOLDER "/sys/class/tty"
/* Where the symlink of a port's class entry leads: no word in it makes it a USB, Bluetooth or
 * virtual one. */
#define CLASS_TARGET "../../devices/understudy/tty/port"
#define EXPORTED __attribute__((visibility("default")))

static void* system_function(const char* name) {
  return dlsym(RTLD_NEXT, name);
}

/* The name below /dev of port `index` ("pts/5") in `name`; 0 where there are no more. */
static int port_name(int index, char* name, size_t size) {
  const char* list = getenv("UNDERSTUDY_PORTS");
  while (list != NULL && *list != '\0') {
    const size_t length = strcspn(list, ":");
    if (length > 5 && length - 5 < size && strncmp(list, "/dev/", 5) == 0 && index-- == 0) {
      memcpy(name, list + 5, length - 5);
      name[length - 5] = '\0';
      return 1;
    }
    list += length + (list[length] == ':');
  }
  return 0;
}

/* True for /sys/class/tty/NAME of one of our ports. */
static int is_class_entry(const char* path) {
  const size_t folder = sizeof CLASS_FOLDER - 1;
  if (path == NULL || strncmp(path, CLASS_FOLDER "/", folder + 1) != 0) return 0;
  char name[256];
  for (int index = 0; port_name(index, name, sizeof name); ++index) {
    if (strcmp(path + folder + 1, name) == 0) return 1;
  }
  return 0;
}

static int as_symlink(struct stat* info) {
  memset(info, 0, sizeof *info);
  info->st_mode = S_IFLNK | 0777;
  info->st_nlink = 1;
  return 0;
}

EXPORTED int lstat(const char* path, struct stat* info) {
  if (is_class_entry(path)) return as_symlink(info);
  int (*real)(const char*, struct stat*);
  *(void**)&real = system_function("lstat");
  if (real != NULL) return real(path, info);
  int (*older)(int, const char*, struct stat*); /* glibc before 2.33 */
  *(void**)&older = system_function("__lxstat");
  return older(1, path, info);
}

EXPORTED int __lxstat(int version, const char* path, struct stat* info) {
  if (is_class_entry(path)) return as_symlink(info);
  int (*real)(int, const char*, struct stat*);
  *(void**)&real = system_function("__lxstat");
  return real(version, path, info);
}

static ssize_t class_target(char* into, size_t size) {
  const size_t length = sizeof CLASS_TARGET - 1;
  memcpy(into, CLASS_TARGET, length < size ? length : size);
  return (ssize_t)(length < size ? length : size);
}

EXPORTED ssize_t readlink(const char* path, char* into, size_t size) {
  if (is_class_entry(path)) return class_target(into, size);
  ssize_t (*real)(const char*, char*, size_t);
  *(void**)&real = system_function("readlink");
  return real(path, into, size);
}

EXPORTED ssize_t __readlink_chk(const char* path, char* into, size_t size, size_t room) {
  if (is_class_entry(path)) return class_target(into, size);
  ssize_t (*real)(const char*, char*, size_t, size_t);
  *(void**)&real = system_function("__readlink_chk");
  return real(path, into, size, room);
}

/* Listings of the class folder that are under way, and which of our ports comes next in each. */
struct listing {
  DIR* folder;
  int next;
};
static struct listing listings[8];
static pthread_mutex_t listing_lock = PTHREAD_MUTEX_INITIALIZER;

/* The next port's number in this listing; -1 where it is not one of the class folder. */
static int next_in_listing(DIR* folder) {
  int next = -1;
  pthread_mutex_lock(&listing_lock);
  for (size_t i = 0; i < sizeof listings / sizeof *listings; ++i) {
    if (listings[i].folder == folder) next = listings[i].next++;
  }
  pthread_mutex_unlock(&listing_lock);
  return next;
}

static void change_listing(DIR* from, DIR* to) {
  pthread_mutex_lock(&listing_lock);
  for (size_t i = 0; i < sizeof listings / sizeof *listings; ++i) {
    if (listings[i].folder != from) continue;
    listings[i].folder = to;
    listings[i].next = 0;
    break;
  }
  pthread_mutex_unlock(&listing_lock);
}

EXPORTED DIR* opendir(const char* path) {
  DIR* (*real)(const char*);
  *(void**)&real = system_function("opendir");
  DIR* folder = real(path);
  if (folder != NULL && strcmp(path, CLASS_FOLDER) == 0) change_listing(NULL, folder);
  return folder;
}

EXPORTED int closedir(DIR* folder) {
  int (*real)(DIR*);
  *(void**)&real = system_function("closedir");
  change_listing(folder, NULL);
  return real(folder);
}

/* After the last real entry: an entry for the next of our ports; 0 where there is none. */
static int put_entry(DIR* folder, struct dirent* entry) {
  char name[sizeof entry->d_name];
  const int index = next_in_listing(folder);
  if (index < 0 || !port_name(index, name, sizeof name)) return 0;
  memset(entry, 0, sizeof *entry);
  entry->d_ino = (ino_t)index + 1;
  entry->d_type = DT_LNK;
  strcpy(entry->d_name, name);
  return 1;
}

EXPORTED struct dirent* readdir(DIR* folder) {
  static __thread struct dirent ours;
  struct dirent* (*real)(DIR*);
  *(void**)&real = system_function("readdir");
  struct dirent* entry = real(folder);
  if (entry != NULL) return entry;
  return put_entry(folder, &ours) ? &ours : NULL;
}

EXPORTED int readdir_r(DIR* folder, struct dirent* entry, struct dirent** result) {
  int (*real)(DIR*, struct dirent*, struct dirent**);
  *(void**)&real = system_function("readdir_r");
  const int error = real(folder, entry, result);
  if (error == 0 && *result == NULL && put_entry(folder, entry)) *result = entry;
  return error;
}
