/* SPDX-License-Identifier: GPL-3.0-or-later
 * replay_dump.c - for tests/oracle: what a program takes away, as JSON.
 *
 *   replay_dump FILE KERF   -> [[x, y], ...] one ring a line, openings clockwise
 */
#include "base/file.h"
#include "base/text.h"
#include "replay/replay.h"
#include <stdio.h>

static void
print_ring(const HfRing *ring)
{
  for (guint v = 0; v < ring->n; v++) {
    HfPoint p = hf_grid_point(ring->at[v]);
    g_autofree char *x = hf_text_number(p.x, 4), *y = hf_text_number(p.y, 4);
    printf("%s[%s,%s]", v == 0 ? "[" : ",", x, y);
  }
  printf("]\n");
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  const char *end;
  HfReplayOptions options = {.within = 0.05, .at = {NAN, NAN}, .table = HF_BOX_EMPTY};
  if (argc != 3 || !hf_text_parse(argv[2], &options.kerf, &end))
    return 2;
  g_autoptr(GBytes) bytes = hf_file_read(argv[1], HF_PROGRAM_MOST_BYTES, &error);
  gsize n = 0;
  const char *text = bytes != NULL ? g_bytes_get_data(bytes, &n) : NULL;
  g_autoptr(HfProgram) program =
      bytes != NULL ? hf_program_read(argv[1], text, n, NULL, &error) : NULL;
  g_autoptr(HfReplay) replay =
      program != NULL ? hf_replay_new(program, &options, NULL, &error) : NULL;
  if (replay == NULL) {
    fprintf(stderr, "%s\n", error->message);
    return 2;
  }
  for (guint i = 0; i < replay->cut->rings->len; i++)
    print_ring(hf_region_ring(replay->cut, i));
  return 0;
}
