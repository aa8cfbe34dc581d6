/* SPDX-License-Identifier: GPL-3.0-or-later
 * said-instead.c - words that people use for a choice, and what to write for them.
 */
#include "recipe/value-private.h"
#include <string.h>

/* Common practice, no source. What is to be written is spelled out: the choice, or more than that.
 */
static const struct {
  const char *key, *said, *instead;
} WORDS[] = {
    {"mount", "standoffs",
     "studs (welded on behind, with spacers), or holes (for screws through them)"},
    {"mount", "standoff",
     "studs (welded on behind, with spacers), or holes (for screws through them)"},
    {"mount", "stand-offs",
     "studs (welded on behind, with spacers), or holes (for screws through them)"},
    {"mount", "stand-off",
     "studs (welded on behind, with spacers), or holes (for screws through them)"},
    {"mount", "spacers",
     "studs (welded on behind, with spacers), or holes (for screws through them)"},
    {"mount", "pins", "studs"},
    {"mount", "stud", "studs"},
    {"mount", "screws", "holes"},
    {"mount", "screwed", "holes"},
    {"mount", "bolts", "holes"},
    {"mount", "bolted", "holes"},
    {"mount", "nails", "holes"},
    {"mount", "wall", "holes, studs or welded: how it is fixed to the wall"},
    {"mount", "hanging", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "hung", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "hang", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "hooks", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "chain", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "chains", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "wire", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "rope", "holes, and say where: an ear or a hole among the entries"},
    {"mount", "ears", "holes, and say where: - ear: {hole: 8 mm, on: ...}"},
    {"mount", "stakes", "stake, and add a stake among the entries"},
    {"mount", "spike", "stake, and add a stake among the entries"},
    {"mount", "ground", "stake, and add a stake among the entries"},
    {"mount", "garden", "stake, and add a stake among the entries"},
    {"mount", "feet", "none, and add feet among the entries: - foot: {...}"},
    {"mount", "stand", "none, and add feet among the entries: - foot: {...}"},
    {"mount", "standing", "none, and add feet among the entries: - foot: {...}"},
    {"mount", "pole", "holes (for straps or bolts round it), or welded"},
    {"mount", "on a pole", "holes (for straps or bolts round it), or welded"},
    {"mount", "post", "holes (for straps or bolts round it), or welded"},
    {"mount", "on a post", "holes (for straps or bolts round it), or welded"},
    {"mount", "weld", "welded"},
    {"mount", "glue", "none: what it is glued with is not checked"},
    {"mount", "glued", "none: what it is glued with is not checked"},
    {"mount", "adhesive", "none: what it is glued with is not checked"},
    {"mount", "tape", "none: what it is glued with is not checked"},
    {"mount", "magnets", "none: what magnets hold is not checked"},
    {"finish", "none", "raw"},
    {"finish", "bare", "raw"},
    {"finish", "rust", "rusted"},
    {"finish", "rusty", "rusted"},
    {"finish", "oil", "oiled"},
    {"finish", "waxed", "oiled"},
    {"finish", "painted", "paint and a colour: paint dark green"},
    {"finish", "powder", "powder coat and a colour: powder coat RAL 9005"},
    {"finish", "powder coated", "powder coat and a colour: powder coat RAL 9005"},
    {"shape", "circle", "round, with diameter"},
    {"shape", "circular", "round, with diameter"},
    {"shape", "disc", "round, with diameter"},
    {"shape", "disk", "round, with diameter"},
    {"shape", "square", "rectangle, with the same width and height"},
    {"shape", "ellipse", "oval"},
    {"shape", "rounded rectangle", "rounded"},
    {"shape", "arch", "arch-topped"},
    {"shape", "triangle", "polygon, with sides: 3"},
    {"shape", "pentagon", "polygon, with sides: 5"},
    {"shape", "hexagon", "polygon, with sides: 6"},
    {"shape", "octagon", "polygon, with sides: 8"},
    {"shape", "contour", "outline, with around"},
    {"metal", "steel", "mild steel, or stainless steel"},
    {"metal", "iron", "mild steel"},
    {"metal", "inox", "stainless steel"},
    {"metal", "rusting steel", "weathering steel"},
};

const char *
hf_said_instead(const char *key, const char *said)
{
  for (gsize i = 0; i < G_N_ELEMENTS(WORDS); i++)
    if (strcmp(WORDS[i].key, key) == 0 && g_ascii_strcasecmp(WORDS[i].said, said) == 0)
      return WORDS[i].instead;
  return NULL;
}
