/* SPDX-License-Identifier: GPL-3.0-or-later
 * plate-private.h - plates by their sizes, and sizes by what stands on them.
 */
#pragma once
#include "layout/layout-private.h"

/** hf_plate_draw: adds the outline of @plate, about its own middle, to @own; sizes in mm, a radius
 * of a circle goes to the entry. Every shape but #HF_PLATE_OUTLINE. %FALSE with %HF_ERROR_BAD_VALUE
 * at
 *  @entry: it can't be drawn so. */
gboolean hf_plate_draw(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                       GError **error);

/** hf_plate_is_fitted: does its size follow from its margin? */
gboolean hf_plate_is_fitted(const HfPlateEntry *plate);
/** hf_plate_fit: lays a plate as large as its margin asks round what stands on it, there. %FALSE
 * with %HF_ERROR_BAD_VALUE, %HF_ERROR_NO_ROOM. */
gboolean hf_plate_fit(HfLaying *laying, guint entry, GError **error);
/** hf_ring_fit: mm: the inner radius of a ring round what it names; places it there. */
gboolean hf_ring_fit(HfLaying *laying, guint entry, double *ret_inner, GError **error);

/* Of plate-shapes.c, as hf_plate_draw(), one shape each. */
/** hf_draw_banner: a strip with swallow-tailed ends. */
gboolean hf_draw_banner(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                        GError **error);
/** hf_draw_ticket: its corners bitten off. */
gboolean hf_draw_ticket(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                        GError **error);
/** hf_draw_badge: round, with a lobed edge. */
gboolean hf_draw_badge(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                       GError **error);
/** hf_draw_arrow: points to the right. */
gboolean hf_draw_arrow(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                       GError **error);
/** hf_draw_speech: round-cornered, with a tail. */
gboolean hf_draw_speech(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                        GError **error);
/** hf_draw_cloud: puffs on a flat foot. */
gboolean hf_draw_cloud(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                       GError **error);
/** hf_draw_heart: the ornament, stretched. */
gboolean hf_draw_heart(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                       GError **error);
/** hf_draw_hexagons: hexagons side by side. */
gboolean hf_draw_hexagons(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                          GError **error);
/** hf_draw_tabbed: a round tab at each end. */
gboolean hf_draw_tabbed(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                        GError **error);
