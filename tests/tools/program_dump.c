/* SPDX-License-Identifier: GPL-3.0-or-later
 * program_dump.c - for tests/oracle: the moves of a program as JSON, one a line.
 *
 *   program_dump FILE   -> [kind, line, lit, [from], [to], [centre], sweep, plane, feed, seconds,
 *                           name]
 */
#include "base/file.h"
#include "program/program.h"
#include <stdio.h>

static const char *const kinds[] = {"travel", "line", "round", "wait", "on", "off"};

static void
print_move(const HfProgram *program, guint i)
{
  const HfMove *m = hf_program_move(program, i);
  const char *name = hf_program_name(program, i);
  g_autofree char *plain = g_strescape(name != NULL ? name : "", NULL);
  printf("[\"%s\",%u,%s,[%.17g,%.17g,%.17g],[%.17g,%.17g,%.17g],[%.17g,%.17g],%.17g,%d,%.17g,%.17g,"
         "\"%s\"]\n",
         kinds[m->kind], m->line, m->lit ? "true" : "false", m->from[0], m->from[1], m->from[2],
         m->to[0], m->to[1], m->to[2], m->centre.x, m->centre.y, m->sweep, m->plane, m->feed,
         m->seconds, plain);
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = argc == 2 ? hf_file_read(argv[1], HF_PROGRAM_MOST_BYTES, &error) : NULL;
  gsize n = 0;
  const char *text = bytes != NULL ? g_bytes_get_data(bytes, &n) : NULL;
  g_autoptr(HfProgram) program =
      bytes != NULL ? hf_program_read(argv[1], text, n, NULL, &error) : NULL;
  if (program == NULL) {
    fprintf(stderr, "%s\n", error != NULL ? error->message : "program_dump FILE");
    return 2;
  }
  for (guint i = 0; i < program->moves->len; i++)
    print_move(program, i);
  return 0;
}
