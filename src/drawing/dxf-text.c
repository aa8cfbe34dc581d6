/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-text.c - TEXT, ATTRIB and MTEXT: words, where they stand, how high and how wide.
 *
 * A DXF file holds no letters: it names a face that may not be here. So words are kept as words, in
 * a frame in which they are 1 high; whoever sets them chooses the face.
 */
#include "drawing/dxf-private.h"
#include <string.h>

#define DEGREE  (G_PI / 180)
#define LEADING (5.0 / 3) /* the reference, MTEXT, 44: of the height */
enum { ALIGNED = 3, MIDDLE = 4, FITTED = 5 };
enum { BACKWARD = 2, UPSIDE_DOWN = 4 };
enum { INVISIBLE = 1 };

void
hf_dxf_words_free(HfDxfWords *words)
{
  if (words == NULL)
    return;
  g_free(words->text);
  g_free(words->style);
  g_free(words);
}

static HfDxfWords *
add_words(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record, char *text)
{
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_WORDS);
  piece->words = g_new0(HfDxfWords, 1);
  piece->words->text = text;
  piece->words->style = hf_dxf_decode(reader->document, hf_dxf_text(record, 7, "STANDARD"));
  return piece->words;
}

/* Width factor, slant, backward or upside down; then high, turned and in its place. */
static HfMatrix
frame_of(HfDxfRecord record, double height, double turn, HfPoint at)
{
  int made = hf_dxf_int(record, 71, 0);
  double slant = tan(hf_dxf_real(record, 51, 0) * DEGREE);
  HfMatrix m = {hf_dxf_real(record, 41, 1), slant, 0, 1, 0, 0};
  m = hf_matrix_then(
      m, hf_matrix_scale((made & BACKWARD) != 0 ? -1 : 1, (made & UPSIDE_DOWN) != 0 ? -1 : 1));
  m = hf_matrix_then(m, hf_matrix_scale(height, height));
  m = hf_matrix_then(m, hf_matrix_turn(turn));
  return hf_matrix_then(m, hf_matrix_move(at.x, at.y));
}

void
hf_dxf_draw_text(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  double first[3], second[3], height = hf_dxf_real(record, 40, 0);
  if (hf_dxf_is(record, "ATTRIB") && (hf_dxf_int(record, 70, 0) & INVISIBLE) != 0)
    return;
  hf_dxf_point(record, 10, first);
  hf_dxf_point(record, 11, second);
  int across = CLAMP(hf_dxf_int(record, 72, 0), 0, 5);
  int up = CLAMP(hf_dxf_int(record, hf_dxf_is(record, "ATTRIB") ? 74 : 73, 0), 0, 3);
  gboolean between = across == ALIGNED || across == FITTED;
  gboolean by_second = (across != 0 || up != 0) && hf_dxf_find(record, 11) != NULL;
  const double *anchor = by_second && !between ? second : first;
  HfPoint way = hf_point(second[0] - first[0], second[1] - first[1]);
  double turn = between ? hf_angle_of(way) : hf_dxf_real(record, 50, 0) * DEGREE;
  g_autofree char *text = hf_dxf_decode(reader->document, hf_dxf_text(record, 1, ""));
  HfDxfWords *words = add_words(reader, where, record, hf_dxf_plain(text));
  words->across = across;
  words->up = across == MIDDLE ? 2 : up;
  words->span = between && height > 0 ? hf_point_length(way) / height : 0;
  words->matrix = hf_matrix_then(frame_of(record, height, turn, hf_point(anchor[0], anchor[1])),
                                 hf_dxf_space_plane(hf_dxf_own_space(where, record), anchor[2]));
}

/* Marks by which parts of it look otherwise: higher, wider, slanted, raised, one over the other. */
static gboolean
is_mixed(HfDxfRecord record)
{
  for (guint i = 0; i < record.n; i++) {
    const char *p = record.tag[i].code == 3 || record.tag[i].code == 1 ? record.tag[i].text : NULL;
    for (; p != NULL && (p = strchr(p, '\\')) != NULL && p[1] != '\0'; p += 2)
      if (strchr("HWQTASf", p[1]) != NULL)
        return TRUE;
  }
  return FALSE;
}

/* Its text comes in pieces: any number of 3, then 1. */
static char *
text_of(HfDxfReader *reader, HfDxfRecord record)
{
  g_autoptr(GString) all = g_string_new(NULL);
  for (guint i = 0; i < record.n; i++)
    if ((record.tag[i].code == 3 || record.tag[i].code == 1) && record.tag[i].text != NULL)
      g_string_append(all, record.tag[i].text);
  g_autofree char *decoded = hf_dxf_decode(reader->document, all->str);
  return hf_dxf_plain_lines(decoded);
}

void
hf_dxf_draw_mtext(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  double at[3], way[3], height = hf_dxf_real(record, 40, 0);
  hf_dxf_point(record, 10, at);
  hf_dxf_point(record, 11, way);
  double turn =
      hf_dxf_find(record, 11) != NULL ? atan2(way[1], way[0]) : hf_dxf_real(record, 50, 0) * DEGREE;
  int corner = CLAMP(hf_dxf_int(record, 71, 1), 1, 9) - 1;
  HfDxfWords *words = add_words(reader, where, record, text_of(reader, record));
  words->across = corner % 3;
  words->up = 3 - corner / 3;
  words->wrap = height > 0 ? hf_dxf_real(record, 41, 0) / height : 0;
  words->leading = LEADING * hf_dxf_real(record, 44, 1);
  words->mixed = is_mixed(record);
  HfMatrix own = hf_matrix_then(hf_matrix_scale(height, height), hf_matrix_turn(turn));
  own = hf_matrix_then(own, hf_matrix_move(at[0], at[1]));
  words->matrix = hf_matrix_then(own, hf_dxf_space_plane(where->space, at[2]));
}
