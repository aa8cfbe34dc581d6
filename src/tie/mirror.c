/* SPDX-License-Identifier: GPL-3.0-or-later
 * mirror.c - is a part, is a letter, its own mirror image?
 *
 *      \ | /      hull in 32 directions, each held against the one that mirrors it: about the
 *     ---+---     upright line through the middle, about the level one, or turned by half a turn
 *      / | \
 *
 * A hull tells a letter from its image as the eye does, at the cost of a few boxes; the centre of
 * mass tells of what the hull hides. Everything in the letter's own frame. Limits: none is
 * symmetric whose box is empty (size 0: nothing is within it). Source: symmetry.
 */
#include "tie/offers-private.h"

/* Of a direction its image. */
static guint
image_of(guint way, HfMirror mirror)
{
  guint image = mirror == HF_MIRROR_TURN ? way : HF_VIEW_WAYS - way;
  return (image + (mirror == HF_MIRROR_ENDS ? 0 : HF_VIEW_WAYS / 2)) % HF_VIEW_WAYS;
}

gboolean
hf_view_mirrored(const HfGround *ground, guint part, HfMirror mirror, double within)
{
  const HfView *view = &ground->views[part];
  const HfPart *its = &g_array_index(ground->sign->hold->parts, HfPart, part);
  double size = fmax(hf_box_width(view->box), hf_box_height(view->box));
  HfPoint mass = hf_view_point(view, its->centroid);
  for (guint k = 0; k < HF_VIEW_WAYS; k++) {
    if (fabs(view->support[k] - view->support[image_of(k, mirror)]) > within * size)
      return FALSE;
  }
  return (mirror == HF_MIRROR_ENDS || fabs(mass.x) < within * size) &&
         (mirror == HF_MIRROR_SIDES || fabs(mass.y) < within * size);
}

HfBox
hf_view_letter_box(const HfGround *ground, const HfView *view, double angle)
{
  HfMatrix turn = {view->level.x, view->level.y, view->up.x, view->up.y, 0, 0};
  g_autoptr(HfOutline) turned = hf_outline_new();
  hf_outline_append(turned, hf_layout_shape(ground->sign->layout, view->shape)->outline,
                    hf_matrix_then(hf_matrix_move(-view->middle.x, -view->middle.y),
                                   hf_matrix_then(turn, hf_matrix_turn(-angle))));
  return hf_outline_box(turned);
}

/* From the middle of what it encloses. */
gboolean
hf_view_letter_mirrored(const HfGround *ground, const HfView *view, HfMirror mirror, double within)
{
  double far[HF_VIEW_WAYS];
  double size = 0;
  for (guint k = 0; k < HF_VIEW_WAYS / 4; k++) {
    HfBox box = hf_view_letter_box(ground, view, 2 * G_PI * k / HF_VIEW_WAYS);
    far[k] = box.max.x;
    far[k + HF_VIEW_WAYS / 4] = box.max.y;
    far[k + HF_VIEW_WAYS / 2] = -box.min.x;
    far[k + 3 * HF_VIEW_WAYS / 4] = -box.min.y;
    size = fmax(size, fmax(hf_box_width(box), hf_box_height(box)));
  }
  for (guint k = 0; k < HF_VIEW_WAYS; k++)
    if (fabs(far[k] - far[image_of(k, mirror)]) > within * size)
      return FALSE;
  return TRUE;
}
