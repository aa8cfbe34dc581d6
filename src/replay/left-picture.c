/* SPDX-License-Identifier: GPL-3.0-or-later
 * left-picture.c - what is left, as an SVG in mm: the skeleton pale, drops hatched by their colour,
 * the sign dark, paths thin, travels dashed, places of findings circled and numbered.
 */
#include "base/text.h"
#include "replay/replay-private.h"

typedef struct {
  GString *text;
  const HfReplay *replay;
  double large; /* mm, of a mark */
} Picture;

static const struct {
  const char *fill, *says;
} looks[] = {
    [HF_PIECE_SKELETON] = {"#e6e3dc", "what is left of the sheet"},
    [HF_PIECE_SIGN] = {"#3c4650", "the sign"},
    [HF_PIECE_DROP] = {"#c9b48a", "a drop"},
};

static void
put_point(Picture *p, char command, HfPoint at)
{
  g_string_append_c(p->text, command);
  hf_text_append(p->text, at.x - p->replay->sheet.min.x, 3);
  g_string_append_c(p->text, ' ');
  hf_text_append(p->text, p->replay->sheet.max.y - at.y, 3);
}

static void
put_ring(Picture *p, const HfRing *ring)
{
  for (guint v = 0; v < ring->n; v++)
    put_point(p, v == 0 ? 'M' : 'L', hf_grid_point(ring->at[v]));
  g_string_append_c(p->text, 'Z');
}

static void
put_piece(Picture *p, const HfPiece *piece)
{
  const HfRegion *left = p->replay->left;
  g_string_append_printf(p->text, "<path fill=\"%s\" fill-rule=\"evenodd\" d=\"",
                         looks[piece->kind].fill);
  put_ring(p, hf_region_ring(left, piece->ring));
  for (guint r = 0; r < left->rings->len; r++)
    if (hf_region_ring(left, r)->parent == (gint)piece->ring)
      put_ring(p, hf_region_ring(left, r));
  g_string_append_printf(p->text, "\"><title>%s</title></path>\n", looks[piece->kind].says);
}

static void
put_burns(Picture *p)
{
  g_string_append(p->text, "<g fill=\"none\" stroke=\"#b3261e\" stroke-width=\"");
  hf_text_append(p->text, fmax(p->replay->kerf / 6, p->large / 16), 3);
  g_string_append(p->text, "\">\n");
  for (guint i = 0; i < p->replay->burns->len; i++) {
    const HfBurn *burn = hf_replay_burn(p->replay, i);
    g_string_append(p->text, "<path d=\"");
    for (guint j = 0; j < burn->n; j++)
      put_point(p, j == 0 ? 'M' : 'L', hf_replay_point(p->replay, burn->first + j)->at);
    g_string_append_printf(p->text, "\"><title>%u</title></path>\n", i + 1);
  }
  g_string_append(p->text, "</g>\n");
}

static void
put_travels(Picture *p)
{
  g_string_append(p->text, "<path fill=\"none\" stroke=\"#5a7fa6\" stroke-dasharray=\"2 1.5\" "
                           "stroke-width=\"");
  hf_text_append(p->text, fmax(p->replay->kerf / 6, p->large / 16), 3);
  g_string_append(p->text, "\" d=\"");
  const HfProgram *program = p->replay->program;
  for (guint i = 0; i < program->moves->len; i++) {
    const HfMove *move = hf_program_move(program, i);
    HfPoint a = hf_point(move->from[0], move->from[1]), b = hf_point(move->to[0], move->to[1]);
    if (move->lit || move->kind > HF_MOVE_ROUND || !hf_box_contains(p->replay->sheet, a) ||
        !hf_box_contains(p->replay->sheet, b))
      continue;
    put_point(p, 'M', a);
    put_point(p, 'L', b);
  }
  g_string_append(p->text, "\"/>\n");
}

static void
put_number(Picture *p, const char *name, double value)
{
  g_string_append_printf(p->text, " %s=\"", name);
  hf_text_append(p->text, value, 3);
  g_string_append_c(p->text, '"');
}

static void
put_mark(Picture *p, HfPoint at, guint number)
{
  double x = at.x - p->replay->sheet.min.x, y = p->replay->sheet.max.y - at.y;
  g_string_append(p->text, "<circle fill=\"none\" stroke=\"#d00000\"");
  put_number(p, "cx", x);
  put_number(p, "cy", y);
  put_number(p, "r", p->large);
  put_number(p, "stroke-width", p->large / 5);
  g_string_append(p->text, "/>\n<text fill=\"#d00000\" font-family=\"sans-serif\"");
  put_number(p, "x", x + p->large * 1.2);
  put_number(p, "y", y - p->large * 0.6);
  put_number(p, "font-size", p->large * 2);
  g_string_append_printf(p->text, ">%u</text>\n", number);
}

static void
put_marks(Picture *p)
{
  for (guint i = 0; i < p->replay->findings->len; i++) {
    const HfReplayFinding *finding = p->replay->findings->pdata[i];
    if (isfinite(finding->at.x))
      put_mark(p, finding->at, i + 1);
  }
}

GBytes *
hf_replay_picture(const HfReplay *replay)
{
  double width = hf_box_width(replay->sheet), height = hf_box_height(replay->sheet);
  Picture p = {g_string_new(NULL), replay, fmax(width, height) / 120};
  g_autofree char *w = hf_text_number(width, 3), *h = hf_text_number(height, 3);
  g_string_append_printf(p.text,
                         "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" "
                         "height=\"%smm\" viewBox=\"0 0 %s %s\">\n",
                         w, h, w, h);
  for (guint i = 0; i < replay->pieces->len; i++)
    put_piece(&p, hf_replay_piece(replay, i));
  put_burns(&p);
  put_travels(&p);
  put_marks(&p);
  g_string_append(p.text, "</svg>\n");
  return g_string_free_to_bytes(p.text);
}
