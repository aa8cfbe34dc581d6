/* SPDX-License-Identifier: GPL-3.0-or-later
 * refused.c - why a file can't be read or written, and what to do: the nearest name, whose it is,
 * what lies in a folder that was named instead of a file, where a link leads.
 */
#include "base/file-private.h"
#include "base/text.h"
#include <errno.h>
#include <fcntl.h>
#include <pwd.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

enum {
  MOST_LOOKED_AT = 2000, /* names of a folder */
  MOST_NAMED = 3,
};

/* ---- what lies beside ----------------------------------------------------------------------- */

static gint
by_name(gconstpointer a, gconstpointer b)
{
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* At most MOST_LOOKED_AT names of @folder, sorted; empty: can't be looked into. (transfer full) */
static GPtrArray *
names_in(const char *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir != NULL && names->len < MOST_LOOKED_AT && (name = g_dir_read_name(dir)) != NULL)
    if (g_utf8_validate(name, -1, NULL))
      g_ptr_array_add(names, g_strdup(name));
  g_ptr_array_sort(names, by_name);
  return names;
}

static gboolean
is_recipe(const char *name)
{
  return g_str_has_suffix(name, ".yaml") || g_str_has_suffix(name, ".yml") ||
         g_str_has_suffix(name, ".json");
}

/* boats.yml for boats.yaml, boats for boats.yaml */
static const char *
same_stem(const GPtrArray *names, const char *wanted)
{
  const char *dot = strrchr(wanted, '.');
  gsize n = dot != NULL && dot != wanted ? (gsize)(dot - wanted) : strlen(wanted);
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index(names, i);
    if (strncmp(name, wanted, n) == 0 && (name[n] == '.' || name[n] == '\0') && is_recipe(name))
      return name;
  }
  return NULL;
}

/* `did you mean "boats.yaml"?`, or what there is. */
static char *
nearest_file(const char *path)
{
  g_autofree char *folder = g_path_get_dirname(path), *wanted = g_path_get_basename(path);
  if (!g_file_test(folder, G_FILE_TEST_IS_DIR))
    return g_strdup_printf("there is no folder \"%s\" either: look at the path", folder);
  g_autoptr(GPtrArray) names = names_in(folder);
  g_ptr_array_add(names, NULL);
  const char *near = hf_text_nearest(wanted, (const char *const *)names->pdata);
  g_ptr_array_set_size(names, (int)names->len - 1);
  const char *found = same_stem(names, wanted);
  if (found == NULL)
    found = near;
  if (found == NULL)
    return g_strdup("look at the path; no file there has a name like it");
  g_autofree char *whole =
      strcmp(folder, ".") == 0 ? g_strdup(found) : g_build_filename(folder, found, NULL);
  return g_strdup_printf("did you mean \"%s\"?", whole);
}

/* ---- not to be read ------------------------------------------------------------------------- */

static gboolean
refuse_link(GError **error, const char *path)
{
  char to[1024];
  gssize n = readlink(path, to, sizeof to - 1);
  if (n < 0)
    return FALSE;
  to[n] = '\0';
  hf_error_set(error, HF_ERROR_NOT_FOUND, path, "name the file itself, or mend the link",
               "this is a link to \"%s\", which is not there", to);
  return TRUE;
}

/* `it belongs to NAME, who ...` */
static char *
owner_fix(const char *path)
{
  struct stat info;
  if (stat(path, &info) != 0)
    return g_strdup("ask whoever owns the folder to let you read it");
  if (info.st_uid == getuid())
    return g_strdup("it is yours: let yourself read it (chmod u+r)");
  struct passwd entry, *found = NULL;
  char buffer[2048];
  if (getpwuid_r(info.st_uid, &entry, buffer, sizeof buffer, &found) == 0 && found != NULL)
    return g_strdup_printf("ask %s, whose file it is, to let you read it", found->pw_name);
  return g_strdup("ask whoever owns it to let you read it");
}

void
hf_file_refuse_read(GError **error, const char *path, int code)
{
  if (code == ENOENT && refuse_link(error, path))
    return;
  g_autofree char *fix = code == ENOENT || code == ENOTDIR ? nearest_file(path)
                         : code == EACCES                  ? owner_fix(path)
                         : code == ELOOP
                             ? g_strdup("name the file itself: its links lead in a circle")
                         : code == ENAMETOOLONG ? g_strdup("give the file a shorter name")
                                                : NULL;
  const char *what = code == ENOENT || code == ENOTDIR ? "there is no such file"
                     : code == EACCES                  ? "you may not read this file"
                                                       : NULL;
  if (what != NULL)
    hf_error_set(error, code == EACCES ? HF_ERROR_IO : HF_ERROR_NOT_FOUND, path, fix, "%s", what);
  else
    hf_error_set(error, HF_ERROR_IO, path, fix, "can't read the file: %s", g_strerror(code));
}

void
hf_file_refuse_kind(GError **error, const char *path, gboolean folder)
{
  if (!folder) {
    hf_error_set(error, HF_ERROR_IO, path, "name a file that lies on a disk",
                 "this is not a plain file");
    return;
  }
  g_autoptr(GPtrArray) names = names_in(path), recipes = g_ptr_array_new();
  for (guint i = 0; i < names->len; i++)
    if (is_recipe(g_ptr_array_index(names, i)))
      g_ptr_array_add(recipes, g_ptr_array_index(names, i));
  guint n = recipes->len;
  g_ptr_array_add(recipes, NULL);
  g_autofree char *list =
      hf_text_list_some((const char *const *)recipes->pdata, n, MOST_NAMED, "or");
  g_autofree char *fix =
      n > 0 ? g_strdup_printf("name a file in it, such as %s", list) : g_strdup("name a file");
  hf_error_set(error, HF_ERROR_IO, path, fix, "this is a folder");
}

/* 1.9 MB; decimal, as the file managers say it */
static char *
size_text(guint64 bytes)
{
  double mega = (double)bytes / 1e6;
  g_autofree char *number = hf_text_number(mega < 1 ? (double)bytes / 1e3 : mega, 1);
  return g_strconcat(number, mega < 1 ? " kB" : " MB", NULL);
}

void
hf_file_refuse_size(GError **error, const char *path, guint64 size, gsize cap)
{
  g_autofree char *has = size_text(size), *most = size_text(cap);
  hf_error_set(error, HF_ERROR_TOO_BIG, path, "is it the right file?",
               "the file has %s, and at most %s are read", has, most);
}

/* ---- not to be written ---------------------------------------------------------------------- */

/* The folder nearest to @path that there is. (transfer full) */
static char *
deepest_folder(const char *path)
{
  char *folder = g_path_get_dirname(path);
  while (!g_file_test(folder, G_FILE_TEST_IS_DIR) && strlen(folder) > 1) {
    char *up = g_path_get_dirname(folder);
    g_free(folder);
    folder = up;
  }
  return folder;
}

/* Folders that only look like some: what the kernel says of itself. Source: the Linux kernel,
 * numbers of file systems: proc, sysfs, cgroup2, debugfs. */
static gboolean
is_of_the_system(const char *folder)
{
  struct statfs info;
  return statfs(folder, &info) == 0 && (info.f_type == 0x9fa0 || info.f_type == 0x62656572 ||
                                        info.f_type == 0x63677270 || info.f_type == 0x64626720);
}

char *
hf_file_write_fix(const char *path, int code)
{
  g_autofree char *folder = deepest_folder(path);
  if ((code == ENOENT || code == EPERM || code == EACCES || code == EROFS) &&
      is_of_the_system(folder))
    return g_strdup_printf("\"%s\" is the system's own: choose a folder of yours", folder);
  if (code == ENOENT)
    return g_strdup("the folder is not there: make it first, or choose another");
  return NULL;
}
