/* SPDX-License-Identifier: GPL-3.0-or-later
 * drawing_dump.c - what a drawing was read as, for tests/oracle/test_drawings.py: one JSON object
 * with the page, the size of a unit, notes, and for each piece its name and the rings that it
 * covers.
 */
#include "base/file.h"
#include "base/json.h"
#include "drawing/drawing.h"
#include "geom/region.h"
#include <stdio.h>
#include <string.h>

#define CHORDS 0.05 /* units */

static void
add_rings(HfJson *json, const HfOutline *outline)
{
  g_autoptr(HfRegion) region = hf_region_of_outline(outline, HF_NO_SHAPE, CHORDS);
  hf_json_line(json, "rings", '[');
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    hf_json_line(json, NULL, '[');
    for (guint i = 0; i < ring->n; i++) {
      HfPoint p = hf_grid_point(ring->at[i]);
      hf_json_line(json, NULL, '[');
      hf_json_number(json, NULL, p.x, 4);
      hf_json_number(json, NULL, p.y, 4);
      hf_json_close(json);
    }
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
add_piece(HfJson *json, const HfDrawingPiece *piece)
{
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "name", piece->name);
  hf_json_bool(json, "white", piece->white);
  hf_json_number(json, "colour", piece->colour, 0);
  hf_json_number(json, "line", piece->line, 0);
  hf_json_number(json, "curves", piece->outline->curves->len, 0);
  hf_json_number(json, "area", hf_outline_area(piece->outline), 6);
  hf_json_line(json, "called", '[');
  for (guint i = 0; i < piece->called->len; i++)
    hf_json_text(json, NULL, (const char *)g_ptr_array_index(piece->called, i));
  hf_json_close(json);
  add_rings(json, piece->outline);
  hf_json_close(json);
}

static void
add_all(HfJson *json, const HfDrawing *drawing)
{
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "mm", drawing->mm, 9);
  hf_json_text(json, "rule", drawing->size_rule);
  hf_json_line(json, "page", '[');
  const double page[4] = {drawing->page.min.x, drawing->page.min.y, drawing->page.max.x,
                          drawing->page.max.y};
  for (int i = 0; i < 4; i++)
    hf_json_number(json, NULL, page[i], 6);
  hf_json_close(json);
  hf_json_open(json, "notes", '[');
  for (guint i = 0; i < drawing->notes->len; i++) {
    const HfDrawingNote *note = (const HfDrawingNote *)g_ptr_array_index(drawing->notes, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "line", note->line, 0);
    hf_json_number(json, "times", note->times, 0);
    hf_json_text(json, "text", note->text);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_open(json, "texts", '[');
  for (guint i = 0; i < drawing->texts->len; i++) {
    const HfDrawingText *text = (const HfDrawingText *)g_ptr_array_index(drawing->texts, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "text", text->text);
    hf_json_text(json, "asked", text->asked);
    hf_json_text(json, "face", text->face != NULL ? text->face : "");
    hf_json_text(json, "why", text->why != NULL ? text->why->message : "");
    hf_json_number(json, "line", text->line, 0);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_open(json, "pieces", '[');
  for (guint i = 0; i < drawing->pieces->len; i++)
    add_piece(json, hf_drawing_piece(drawing, i));
  hf_json_close(json);
  hf_json_close(json);
}

/* FILE [PAGE] [NAMED=FAMILY...]; `=FAMILY`: for all that is not here. */
static guint
read_faces(int argc, char **argv, HfDrawingFace *faces, HfFaceWanted *otherwise)
{
  guint n = 0;
  for (int i = 2; i < argc; i++) {
    char *equals = strchr(argv[i], '=');
    if (equals == NULL)
      continue;
    *equals = '\0';
    HfFaceWanted wanted = {.family = equals + 1};
    if (*argv[i] == '\0')
      *otherwise = wanted;
    else
      faces[n++] = (HfDrawingFace){argv[i], wanted};
  }
  return n;
}

int
main(int argc, char **argv)
{
  g_autofree HfDrawingFace *named = g_new0(HfDrawingFace, (gsize)argc);
  HfFaceWanted otherwise = {NULL, NULL, NULL, NULL};
  guint n = read_faces(argc, argv, named, &otherwise);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  HfDrawingWish wish = {.page = argc > 2 ? (guint)g_ascii_strtoull(argv[2], NULL, 10) : 0,
                        .fonts = argc > 2 ? fonts : NULL,
                        .faces = named,
                        .n_faces = n,
                        .face = otherwise.family != NULL ? &otherwise : NULL};
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = argc > 1 ? hf_file_read(argv[1], 1u << 28, &error) : NULL;
  gsize length = 0;
  const void *data = bytes != NULL ? g_bytes_get_data(bytes, &length) : NULL;
  g_autoptr(HfDrawing) drawing =
      data != NULL ? hf_drawing_read_as("drawing", data, length, &wish, &error) : NULL;
  if (drawing == NULL) {
    fprintf(stderr, "%s\n", error != NULL ? error->message : "drawing_dump FILE [PAGE]");
    return 2;
  }
  g_autoptr(HfJson) json = hf_json_new();
  add_all(json, drawing);
  g_autoptr(GBytes) out = hf_json_finish(json);
  fwrite(g_bytes_get_data(out, NULL), 1, g_bytes_get_size(out), stdout);
  return 0;
}
