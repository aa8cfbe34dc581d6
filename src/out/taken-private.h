/* SPDX-License-Identifier: GPL-3.0-or-later
 * taken-private.h - boxes of a page that something stands in already, by the cell.
 *
 *      +----+----+----+     A number is small: what may lie under one whose middle is in a cell is
 *      |    |x   |  x |     listed with that cell, so that a look reads one list, however many
 *      +----+----+----+     rings stand elsewhere.
 */
#pragma once
#include "geom/point.h"

typedef struct HfTaken HfTaken;

/** hf_taken_new: none yet. @room: where most of what is asked about has its middle; @size: of the
 *  box that will be asked about, > 0. */
HfTaken *hf_taken_new(HfBox room, double size);
/** hf_taken_free: frees it and all that it owns; %NULL: nothing. */
void hf_taken_free(HfTaken *taken);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTaken, hf_taken_free)

/** hf_taken_add: @box is taken. Cost: the cells within @size of it. */
void hf_taken_add(HfTaken *taken, HfBox box);

/** hf_taken_cover: the areas that boxes so far have in common with the box of @size round @at, one
 *  by one in the order that they came; once it is more than @most: at least what it is by then.
 *  Cost: the boxes near @at. */
double hf_taken_cover(const HfTaken *taken, HfPoint at, double most);
