/* SPDX-License-Identifier: GPL-3.0-or-later
 * flow.c - blocks of text that run through frames.
 *
 * Invariant: a line is placed whole; a frame that is empty takes at least one line, so the run
 * ends.
 */
#include "out/flow-private.h"

enum {
  INDENT = 78, /* of a row's value, points */
  BADGE = 22,  /* of a finding's text */
  SHORT = 90,  /* points; a block up to this stays in one piece */
  TABLE = 150, /* points; rows up to this stay under their heading */
  MOST_FRAMES = 400,
};

typedef struct {
  PangoLayout *layout;
  PangoLayout *margin;      /* (nullable) a row's word */
  const HfFinding *finding; /* (nullable) its badge */
  guint number;
  double indent, above; /* points */
  guint colour;
  gboolean heading;
  HfFlowDraw draw; /* (nullable) a picture: no layout */
  gpointer data;
  GDestroyNotify free_data; /* (nullable) */
  double height;            /* of the picture */
} Block;

struct HfFlow {
  const HfPen *pen;
  double width, zoom;
  GArray *blocks; /* Block */
};

static void
clear_block(gpointer data)
{
  Block *block = data;
  g_clear_object(&block->layout);
  g_clear_object(&block->margin);
  if (block->free_data != NULL)
    block->free_data(block->data);
}

HfFlow *
hf_flow_new(const HfPen *pen, double width, double zoom)
{
  HfFlow *flow = g_new0(HfFlow, 1);
  flow->pen = pen;
  flow->width = width;
  flow->zoom = zoom;
  flow->blocks = g_array_new(FALSE, TRUE, sizeof(Block));
  g_array_set_clear_func(flow->blocks, clear_block);
  return flow;
}

void
hf_flow_free(HfFlow *flow)
{
  if (flow == NULL)
    return;
  g_array_unref(flow->blocks);
  g_free(flow);
}

static Block *
add(HfFlow *flow, const HfPenStyle *style, double indent, double above, guint colour,
    const char *text)
{
  HfPenStyle fitted = *style;
  fitted.size *= flow->zoom;
  fitted.width = flow->width - indent;
  Block block = {.layout = hf_pen_text(flow->pen, &fitted, text),
                 .indent = indent,
                 .above = above * flow->zoom,
                 .colour = colour};
  g_array_append_val(flow->blocks, block);
  return &g_array_index(flow->blocks, Block, flow->blocks->len - 1);
}

void
hf_flow_heading(HfFlow *flow, const char *text)
{
  HfPenStyle style = {.size = 11.5, .bold = TRUE};
  add(flow, &style, 0, flow->blocks->len > 0 ? 9 : 0, HF_INK, text)->heading = TRUE;
}

void
hf_flow_text(HfFlow *flow, const HfPenStyle *style, guint colour, const char *text)
{
  add(flow, style, 0, 1.5, colour, text);
}

void
hf_flow_row(HfFlow *flow, const char *word, const char *value)
{
  if (value == NULL)
    return;
  HfPenStyle style = {.size = 9.5, .figures = TRUE}, soft = {.size = 9.5};
  soft.size *= flow->zoom;
  add(flow, &style, INDENT, 1, HF_INK, value)->margin = hf_pen_text(flow->pen, &soft, word);
}

void
hf_flow_finding(HfFlow *flow, const HfFinding *finding, guint number)
{
  g_autofree char *text = hf_say_finding(finding);
  hf_flow_marked(flow, finding, number, text);
}

void
hf_flow_drawn(HfFlow *flow, double height, HfFlowDraw draw, gpointer data, GDestroyNotify free_data)
{
  Block block = {.above = 3 * flow->zoom,
                 .draw = draw,
                 .data = data,
                 .free_data = free_data,
                 .height = height * flow->zoom};
  g_array_append_val(flow->blocks, block);
}

void
hf_flow_marked(HfFlow *flow, const HfFinding *finding, guint number, const char *text)
{
  HfPenStyle style = {.size = 9.5};
  Block *block = add(flow, &style, BADGE, 3, HF_INK, text);
  block->finding = finding;
  block->number = number;
}

/* Where the run has got to. */
typedef struct {
  const HfFlow *flow;
  HfFlowFrame frame;
  gpointer data;
  gboolean draw;
  guint n;   /* frames opened */
  HfBox box; /* the open one */
  double y;
} Run;

static void
open_frame(Run *run)
{
  run->box = run->frame(run->data, run->n++);
  run->y = run->box.min.y;
}

static gboolean
fits(const Run *run, double height)
{
  return run->y + height <= run->box.max.y + 1e-6 || run->y <= run->box.min.y;
}

static const Block *
block_at(const Run *run, guint i)
{
  return i < run->flow->blocks->len ? &g_array_index(run->flow->blocks, Block, i) : NULL;
}

/* Rows of one word each, from @i on, as far as they are a short table. */
static double
rows_height(const Run *run, guint i)
{
  double height = 0;
  for (const Block *row = block_at(run, i); row != NULL && row->margin != NULL;
       row = block_at(run, ++i)) {
    height += row->above + hf_pen_height(row->layout);
    if (height > TABLE * run->flow->zoom)
      return 0;
  }
  return height;
}

/* What must not be parted: a heading and the first lines of what follows, or its short table; a
 * short block; a finding and its picture. */
static double
start_height(const Run *run, guint i)
{
  const Block *block = block_at(run, i), *next = block_at(run, i + 1);
  if (block->draw != NULL)
    return block->above + block->height;
  double height = hf_pen_height(block->layout);
  if (block->heading && next != NULL)
    return block->above + height +
           fmax(fmax(start_height(run, i + 1), 26), rows_height(run, i + 1));
  if (block->finding != NULL && next != NULL && next->draw != NULL)
    height += next->above + next->height;
  else if (height > SHORT)
    return block->above;
  return block->above + (height <= 2 * SHORT ? height : 0);
}

static void
draw_margin(const Run *run, const Block *block)
{
  const HfPen *pen = run->flow->pen;
  if (block->margin != NULL) {
    hf_pen_colour(pen->cr, HF_SOFT_INK, 1);
    hf_pen_draw(pen, block->margin, run->box.min.x, run->y);
  }
  if (block->finding != NULL)
    hf_picture_badge(pen, block->finding, block->number, hf_point(run->box.min.x + 8, run->y + 7.5),
                     8.5);
}

static void
draw_line(const Run *run, const Block *block, PangoLayoutIter *iter, double top)
{
  PangoRectangle box;
  pango_layout_iter_get_line_extents(iter, NULL, &box);
  double x = run->box.min.x + block->indent + box.x / (double)PANGO_SCALE;
  double base = pango_layout_iter_get_baseline(iter) / (double)PANGO_SCALE;
  hf_pen_colour(run->flow->pen->cr, block->colour, 1);
  hf_pen_draw_line(run->flow->pen, block->layout, pango_layout_iter_get_line_readonly(iter), x,
                   run->y + base - top);
}

static void
place_drawn(Run *run, const Block *block)
{
  run->y += run->y > run->box.min.y ? block->above : 0;
  if (run->draw)
    block->draw(run->flow->pen, block->data,
                (HfBox){{run->box.min.x, run->y}, {run->box.max.x, run->y + block->height}});
  run->y += block->height;
}

static void
place_lines(Run *run, const Block *block)
{
  PangoLayoutIter *iter = pango_layout_get_iter(block->layout);
  gboolean first = TRUE;
  run->y += run->y > run->box.min.y ? block->above : 0;
  do {
    int top, bottom;
    pango_layout_iter_get_line_yrange(iter, &top, &bottom);
    double height = (bottom - top) / (double)PANGO_SCALE;
    if (!fits(run, height) && run->n < MOST_FRAMES)
      open_frame(run);
    if (run->draw && first)
      draw_margin(run, block);
    if (run->draw)
      draw_line(run, block, iter, top / (double)PANGO_SCALE);
    first = FALSE;
    run->y += height;
  } while (pango_layout_iter_next_line(iter));
  pango_layout_iter_free(iter);
}

static void
place(Run *run, guint i)
{
  const Block *block = &g_array_index(run->flow->blocks, Block, i);
  if (!fits(run, start_height(run, i)))
    open_frame(run);
  if (block->draw != NULL)
    place_drawn(run, block);
  else
    place_lines(run, block);
}

guint
hf_flow_run(const HfFlow *flow, HfFlowFrame frame, gpointer data, gboolean draw, guint most,
            const HfCancel *cancel)
{
  Run run = {.flow = flow, .frame = frame, .data = data, .draw = draw};
  open_frame(&run);
  for (guint i = 0; i < flow->blocks->len && (most == 0 || run.n <= most); i++) {
    if (!hf_cancel_check(cancel, NULL))
      break;
    place(&run, i);
  }
  return run.n;
}
