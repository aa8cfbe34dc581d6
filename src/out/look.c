/* SPDX-License-Identifier: GPL-3.0-or-later
 * look.c - walls and faces of metal.
 *
 *   brick           stone            oak            hedge
 *   +----+----+     +---+------+     | | |  |  |    leaves of one form in four greens,
 *   +-+----+--+     +-----+--+-+     | | |  |  |    turned anyhow, the dark ones first
 *   +----+----+     +--+-----+-+     | | |  |  |
 */
#include "out/look-private.h"
#include <math.h>

/* mm. Brick: 215 x 65 and a joint of 10, as bricks are laid in Britain (from memory); the others
 * are ours. */
enum {
  BRICK_LONG = 225,
  BRICK_HIGH = 75,
  JOINT = 10,
  STONE_LONG = 340,
  STONE_HIGH = 190,
  BOARD = 145,
  BOARD_GAP = 4,
  SLATE_WIDE = 250,
  SLATE_HIGH = 190,
  LEAF = 34,
};
enum { MOST_PIECES = 9000, MOST_LEAVES = 5200, GRAINS = 9, MOST_LINES = 700, MOST_DABS = 2600 };

/* 0..1, the same for the same three numbers. */
static double
chance(int a, int b, int what)
{
  guint32 h = (guint32)a * 0x9e3779b1u ^ (guint32)b * 0x85ebca77u ^ (guint32)what * 0xc2b2ae3du;
  h ^= h >> 15;
  h *= 0x2c1b3c6du;
  h ^= h >> 12;
  h *= 0x297a2d39u;
  h ^= h >> 15;
  return h / 4294967296.0;
}

/* One of @n. */
static guint
pick(double share, gsize n)
{
  return (guint)(share * (double)n);
}

/* A piece of wall: millimetres, y down from its upper edge. */
typedef struct {
  cairo_t *cr;
  double w, h;
} Wall;

static void
fill_all(const Wall *wall, guint rgb)
{
  hf_pen_colour(wall->cr, rgb, 1);
  cairo_rectangle(wall->cr, 0, 0, wall->w, wall->h);
  cairo_fill(wall->cr);
}

static gboolean
is_too_many(const Wall *wall, double w, double h)
{
  return wall->w / w * (wall->h / h) > MOST_PIECES;
}

static void
block(const Wall *wall, double x, double y, double w, double h, guint rgb)
{
  if (x + w < 0 || x > wall->w || y + h < 0 || y > wall->h)
    return;
  hf_pen_colour(wall->cr, rgb, 1);
  cairo_rectangle(wall->cr, x, y, w, h);
  cairo_fill(wall->cr);
}

static void
draw_brick(const Wall *wall)
{
  static const guint tones[] = {0xa4644f, 0x96594a, 0xad7058, 0x8c5345, 0xa0685a, 0x9b5c4b};
  fill_all(wall, 0xc3b6a6);
  if (is_too_many(wall, BRICK_LONG, BRICK_HIGH)) {
    fill_all(wall, 0x9c6350);
    return;
  }
  for (int row = 0; row * BRICK_HIGH < wall->h; row++)
    for (int i = -1; i * BRICK_LONG < wall->w; i++) {
      double shift = row % 2 == 0 ? 0 : BRICK_LONG / 2.0;
      guint tone = tones[pick(chance(row, i, 1), G_N_ELEMENTS(tones))];
      block(wall, i * BRICK_LONG + shift, row * BRICK_HIGH, BRICK_LONG - JOINT, BRICK_HIGH - JOINT,
            hf_colour_mix(tone, 0x2a1a14, 0.12 * chance(row, i, 2)));
    }
}

static void
draw_stone(const Wall *wall)
{
  fill_all(wall, 0x8d8678);
  if (is_too_many(wall, STONE_LONG, STONE_HIGH)) {
    fill_all(wall, 0xa9a294);
    return;
  }
  double y = 0;
  for (int row = 0; y < wall->h; row++) {
    double high = STONE_HIGH * (0.6 + 0.6 * chance(row, 0, 3));
    double x = -STONE_LONG * chance(row, 0, 4);
    for (int i = 0; x < wall->w; i++) {
      double wide = STONE_LONG * (0.5 + 0.9 * chance(row, i, 5));
      guint tone = hf_colour_mix(0xb9b1a1, 0x8f8a82, chance(row, i, 6));
      block(wall, x, y, wide - JOINT, high - JOINT,
            hf_colour_mix(tone, 0xc0a987, 0.35 * chance(row, i, 7)));
      x += wide;
    }
    y += high;
  }
}

static void
draw_grain(const Wall *wall, int board, double x)
{
  for (int i = 0; i < GRAINS; i++) {
    double at = x + BOARD * (0.06 + 0.88 * chance(board, i, 8));
    double sway = BOARD * 0.07 * (chance(board, i, 9) - 0.5);
    hf_pen_colour(wall->cr, 0x5a3d22, 0.10 + 0.20 * chance(board, i, 10));
    cairo_set_line_width(wall->cr, 0.8 + 1.6 * chance(board, i, 11));
    cairo_move_to(wall->cr, at, 0);
    cairo_curve_to(wall->cr, at + sway, wall->h / 3, at - sway, wall->h * 2 / 3, at + sway / 2,
                   wall->h);
    cairo_stroke(wall->cr);
  }
}

static void
draw_oak(const Wall *wall)
{
  fill_all(wall, 0x4a3420);
  if (wall->w / BOARD > 400) {
    fill_all(wall, 0xa27f58);
    return;
  }
  for (int i = 0; i * BOARD < wall->w; i++) {
    guint tone = hf_colour_mix(0xab865c, 0x8f6c47, chance(i, 0, 12));
    block(wall, i * BOARD, 0, BOARD - BOARD_GAP, wall->h, tone);
    cairo_save(wall->cr);
    cairo_rectangle(wall->cr, i * BOARD, 0, BOARD - BOARD_GAP, wall->h);
    cairo_clip(wall->cr);
    draw_grain(wall, i, i * BOARD);
    cairo_restore(wall->cr);
  }
}

static void
draw_slate(const Wall *wall)
{
  fill_all(wall, 0x363e44);
  if (is_too_many(wall, SLATE_WIDE, SLATE_HIGH)) {
    fill_all(wall, 0x5a646b);
    return;
  }
  for (int row = 0; row * SLATE_HIGH < wall->h; row++)
    for (int i = -1; i * SLATE_WIDE < wall->w; i++) {
      double shift = row % 2 == 0 ? 0 : SLATE_WIDE / 2.0;
      guint tone = hf_colour_mix(0x667078, 0x4e585f, chance(row, i, 13));
      block(wall, i * SLATE_WIDE + shift, row * SLATE_HIGH, SLATE_WIDE - 3, SLATE_HIGH - 5,
            hf_colour_mix(tone, 0x5d5470, 0.22 * chance(row, i, 14)));
    }
}

/* One leaf along x about the origin. */
static void
leaf(cairo_t *cr, double x, double y, double turn, double size)
{
  cairo_save(cr);
  cairo_translate(cr, x, y);
  cairo_rotate(cr, turn);
  cairo_move_to(cr, -size / 2, 0);
  cairo_curve_to(cr, -size / 5, -size * 0.36, size / 4, -size * 0.30, size / 2, 0);
  cairo_curve_to(cr, size / 4, size * 0.30, -size / 5, size * 0.36, -size / 2, 0);
  cairo_close_path(cr);
  cairo_restore(cr);
}

static void
draw_hedge(const Wall *wall)
{
  static const guint greens[] = {0x35502b, 0x425f33, 0x52713d, 0x66864a};
  double size = LEAF, step = size * 0.62;
  fill_all(wall, 0x263a21);
  if (wall->w / step * (wall->h / step) * 2 > MOST_LEAVES) {
    step = sqrt(wall->w * wall->h * 2 / MOST_LEAVES);
    size = step / 0.62;
  }
  for (guint layer = 0; layer < G_N_ELEMENTS(greens); layer++) {
    int n = 0;
    for (double y = 0; y < wall->h + size; y += step)
      for (double x = 0; x < wall->w + size; x += step * 2, n++)
        leaf(wall->cr, x + size * 2 * (chance(n, (int)layer, 15) - 0.5),
             y + size * 2 * (chance(n, (int)layer, 16) - 0.5), 2 * G_PI * chance(n, (int)layer, 17),
             size * (0.75 + 0.5 * chance(n, (int)layer, 18)));
    hf_pen_colour(wall->cr, greens[layer], 1);
    cairo_fill(wall->cr);
  }
}

static void
add_tone(cairo_pattern_t *pattern, double at, guint rgb, double alpha)
{
  cairo_pattern_add_color_stop_rgba(pattern, at, (rgb >> 16 & 0xff) / 255.0,
                                    (rgb >> 8 & 0xff) / 255.0, (rgb & 0xff) / 255.0, alpha);
}

/* Flat, in a soft light from above. */
static void
draw_plain(const Wall *wall, guint top, guint bottom)
{
  HF_AUTO_PATTERN light = cairo_pattern_create_linear(0, 0, 0, wall->h);
  add_tone(light, 0, top, 1);
  add_tone(light, 1, bottom, 1);
  cairo_rectangle(wall->cr, 0, 0, wall->w, wall->h);
  cairo_set_source(wall->cr, light);
  cairo_fill(wall->cr);
}

static void
draw_light(const Wall *wall)
{
  HF_AUTO_PATTERN light = cairo_pattern_create_linear(0, 0, 0, wall->h);
  add_tone(light, 0, 0xfffaee, 0.12);
  add_tone(light, 0.5, 0xfffaee, 0.0);
  add_tone(light, 1, 0x140e06, 0.14);
  cairo_rectangle(wall->cr, 0, 0, wall->w, wall->h);
  cairo_set_source(wall->cr, light);
  cairo_fill(wall->cr);
}

typedef void (*DrawWall)(const Wall *wall);
static const DrawWall drawn[HF_N_WALLS] = {
    [HF_WALL_BRICK] = draw_brick, [HF_WALL_STONE] = draw_stone, [HF_WALL_OAK] = draw_oak,
    [HF_WALL_SLATE] = draw_slate, [HF_WALL_HEDGE] = draw_hedge,
};

void
hf_look_wall(cairo_t *cr, const HfWall *wall, HfBox box, double scale)
{
  double x = round(box.min.x), y = round(box.min.y);
  double w = round(hf_box_width(box)), h = round(hf_box_height(box));
  Wall piece = {cr, w / scale, h / scale};
  cairo_save(cr);
  cairo_rectangle(cr, x, y, w, h);
  cairo_clip(cr);
  cairo_translate(cr, x, y);
  cairo_scale(cr, scale, scale);
  if (drawn[wall->kind] != NULL) {
    drawn[wall->kind](&piece);
    draw_light(&piece);
  } else if (wall->kind == HF_WALL_COLOUR) {
    draw_plain(&piece, hf_colour_mix(wall->colour.rgb, 0xffffff, 0.07),
               hf_colour_mix(wall->colour.rgb, 0x000000, 0.06));
  } else if (wall->kind == HF_WALL_WHITEWASH) {
    draw_plain(&piece, 0xf7f6f1, 0xedeae2);
  } else {
    draw_plain(&piece, 0xeee9de, 0xe4ddd0);
  }
  cairo_restore(cr);
}

HfOnWall
hf_look_on_wall(const HfWall *wall)
{
  guint tone = hf_wall_tone(wall);
  if (hf_colour_is_dark(tone))
    return (HfOnWall){0xfffdf8, 0xf1eadd, drawn[wall->kind] != NULL,
                      hf_colour_mix(tone, 0x14100c, 0.55)};
  return (HfOnWall){HF_INK, drawn[wall->kind] != NULL ? HF_INK : HF_SOFT_INK,
                    drawn[wall->kind] != NULL, hf_colour_mix(tone, 0xffffff, 0.6)};
}

/* ---- faces --------------------------------------------------------------------------------- */

static void
draw_brushed(cairo_t *cr, HfBox box, double unit)
{
  int n = (int)fmin(MOST_LINES, hf_box_height(box) / unit);
  cairo_set_line_width(cr, unit * 0.9);
  for (int i = 0; i < n; i++) {
    double y = box.min.y + hf_box_height(box) * chance(i, 0, 19);
    hf_pen_colour(cr, chance(i, 0, 20) < 0.5 ? 0xffffff : 0x202428, 0.03 + 0.09 * chance(i, 0, 21));
    cairo_move_to(cr, box.min.x + hf_box_width(box) * (chance(i, 0, 22) - 0.4), y);
    cairo_rel_line_to(cr, hf_box_width(box) * (0.3 + 0.8 * chance(i, 0, 23)), 0);
    cairo_stroke(cr);
  }
}

static void
draw_rust(cairo_t *cr, HfBox box, double unit)
{
  static const guint tones[] = {0x5a2f1c, 0xb06a38, 0x8f4a26, 0x472617};
  double area = hf_box_width(box) * hf_box_height(box);
  int n = (int)fmin(MOST_DABS, area / (unit * unit * 90));
  for (int i = 0; i < n; i++) {
    double size = unit * (1.5 + 9 * pow(chance(i, 1, 24), 3));
    hf_pen_colour(cr, tones[pick(chance(i, 1, 25), G_N_ELEMENTS(tones))],
                  0.08 + 0.22 * chance(i, 1, 26));
    leaf(cr, box.min.x + hf_box_width(box) * chance(i, 1, 27),
         box.min.y + hf_box_height(box) * chance(i, 1, 28), 2 * G_PI * chance(i, 1, 29), size * 2);
    cairo_fill(cr);
  }
}

void
hf_look_face(cairo_t *cr, const HfSurface *surface, HfBox box, double unit)
{
  HF_AUTO_PATTERN face = cairo_pattern_create_linear(0, box.min.y, 0, box.max.y);
  add_tone(face, 0, surface->tones[0], 1);
  add_tone(face, 0.45, surface->tones[1], 1);
  add_tone(face, 1, surface->tones[2], 1);
  cairo_set_source(cr, face);
  cairo_paint(cr);
  if (surface->texture == HF_TEXTURE_BRUSHED)
    draw_brushed(cr, box, unit);
  if (surface->texture == HF_TEXTURE_RUST)
    draw_rust(cr, box, unit);
}
