/* SPDX-License-Identifier: GPL-3.0-or-later
 * known-size-private.h - something of known size beside the sign, so that a customer sees how large
 * it will be.
 */
#pragma once
#include "out/picture-private.h"
#include "stock/finish.h"

typedef struct HfKnown HfKnown;

/* The sign and what stands beside it, in one frame. */
typedef struct {
  HfView view;
  const HfKnown *known; /* (nullable) */
  HfBox place;          /* of it, mm in the sign's frame */
} HfKnownScene;

/**
 * hf_known_scene:
 * @sign: box of the sign, mm
 * @room: on the page: what sign and thing may take together
 * The largest of the things that take little of the sign's own size and can still be made out: a
 * person, a sheet of paper, a card. None beside a sign that it would dwarf.
 */
HfKnownScene hf_known_scene(HfBox sign, HfBox room);

/** hf_known_draw: draws it on @wall. */
void hf_known_draw(const HfPen *pen, const HfKnownScene *scene, const HfWall *wall);

/** hf_known_words: (transfer none) "a sheet of A4, 210 x 297 mm", in the thread's units. */
const char *hf_known_words(const HfKnown *known);
