/* SPDX-License-Identifier: GPL-3.0-or-later
 * cautions.c - the table of warnings. docs/cautions.md shows it with what the marks mean:
 * [S: ..] read there, [S2: ..] read second-hand, [M] from memory, [CP] common practice, no source.
 */
#include "stock/cautions.h"
#include <string.h>

enum {
  WORKSHOP = HF_CARRY_REPORT | HF_CARRY_OUTLINES | HF_CARRY_README | HF_CARRY_SHEET,
  CUSTOMER = HF_CARRY_PROOF | HF_CARRY_REPORT | HF_CARRY_README,
  EVERYONE = WORKSHOP | HF_CARRY_PROOF,
};

static const HfCaution cautions[] = {
    {"no-certification",
     "this says nothing of strength, wind or fixings, and certifies nothing, neither in structure "
     "nor in law",
     "common practice", "[CP]", HF_CAUTION_ALWAYS, EVERYONE},
    {"local-codes",
     "local codes and licensed practice come first; where they say otherwise, they are right",
     "common practice", "[CP]", HF_CAUTION_ALWAYS, EVERYONE},
    {"edges",
     "cut metal has sharp edges and corners: deburr them, and round every corner that somebody "
     "can reach",
     "common practice", "After cutting [CP]", HF_CAUTION_ALWAYS, EVERYONE},
    {"hung-sign",
     "a hung sign must not fall on anybody: metal anchors, and chain or cable loaded to at most "
     "1/5 of its breaking strength",
     "a county sign code that follows IBC",
     "[S: codelibrary.amlegal.com/codes/jerseycoil] (one US county code following IBC)",
     HF_CAUTION_HUNG, CUSTOMER},
    {"permit", "a sign may need a permit: ask your building department", "standard IBC appendix H",
     "[S: codes.iccsafe.org IBC2015 appendix H] (not mandatory unless adopted; towns differ)",
     HF_CAUTION_ALWAYS, CUSTOMER},
    {"eyes",
     "watching the arc: filter shade 8 or darker below 300 A, 9 up to 400 A, 10 up to 800 A; cover "
     "face and skin, a curtain does not stop all of it",
     "standard OSHA 29 CFR 1910.133(a)(5)",
     "[S: casetext copy of 1910.133]; curtain: [S: J Occup Environ Hyg 2018;15(1):D1-D7]",
     HF_CAUTION_ALWAYS, WORKSHOP},
    {"fire",
     "nothing that burns within 35 ft (10.7 m), else a fire watch, kept up for at least half an "
     "hour after the last cut; local rules may ask for more",
     "standard OSHA 29 CFR 1910.252(a)(2)(iii)",
     "[S: OSHA Q&A quoting 1910.252(a)(2)(vii) and NFPA 51B; identical state text WAC "
     "296-307-49503]; NFPA 51B from 2019: 1 h [M]",
     HF_CAUTION_ALWAYS, WORKSHOP},
    {"fumes",
     "do not breathe the fume: extract it at the table, and air the room by machine when it is "
     "small, low or closed",
     "standard OSHA 29 CFR 1910.252(c)(2)", "[S: up.codes 1910.252(c)]", HF_CAUTION_ALWAYS,
     WORKSHOP},
    {"fumes-zinc",
     "galvanised sheet gives off zinc oxide, limit 5 mg/m3, which brings on metal-fume fever: "
     "strip the zinc along the cut first, and extract",
     "HSE leaflet WL15",
     "limit: [S: engineeringtoolbox.com/air-contaminants-limits-d_1538.html]; fever: [S: HSE WL15, "
     "scribd.com/document/515731236]; strip first: [CP]",
     HF_CAUTION_ZINC, WORKSHOP},
    {"fumes-chromium",
     "stainless gives off chromium(VI), limit 5 ug/m3 over 8 h, action from 2.5: extract, measure, "
     "and wear what the rule asks for",
     "standard OSHA 29 CFR 1910.1026", "[S: GPO copy] 29 CFR 1910.1026", HF_CAUTION_CHROMIUM,
     WORKSHOP},
    {"fumes-ozone",
     "aluminium and stainless make the most ozone, and air or nitrogen plasma makes nitrogen "
     "oxides: extract at the cut",
     "guidance of HSE", "[S: rcslev.com repeating HSE guidance]", HF_CAUTION_OZONE, WORKSHOP},
    {"noise",
     "98 to 105 dB(A) were measured at hand-held plasma cutting up to 100 A: wear ear protection",
     "standard OSHA 29 CFR 1910.95",
     "[S: hse.gov.uk/welding/noise-vibration.htm]; limits by time: [S: osha.gov p_id=9735]",
     HF_CAUTION_ALWAYS, WORKSHOP},
    {"shock",
     "the torch runs at a voltage that can kill: keep its guards and interlocks working, switch "
     "off before touching torch, tip or table leads",
     "standard OSHA 29 CFR 1910.254(b)(3)",
     "[S: identical state text WAC 296-24-68503]; plasma supplies 200-400 V [M]", HF_CAUTION_ALWAYS,
     WORKSHOP},
    {"water-table",
     "aluminium over water makes hydrogen, which collects under the sheet and can explode: air the "
     "water, leave no parts on it, and never cut aluminium-lithium there",
     "common practice", "[CP; several makers' bulletins say so, not cited]", HF_CAUTION_HYDROGEN,
     WORKSHOP},
    {"hot-parts",
     "parts and drops stay hot and carry sharp dross: gloves and tongs, and strip paint before "
     "cutting",
     "common practice", "After cutting [CP]", HF_CAUTION_ALWAYS, WORKSHOP},
};

const HfCaution *
hf_cautions(guint *ret_n)
{
  *ret_n = G_N_ELEMENTS(cautions);
  return cautions;
}

gboolean
hf_caution_applies(const HfCaution *caution, const char *metal, gboolean hung)
{
  gboolean stainless = strstr(metal, "stainless") != NULL;
  gboolean aluminium = strstr(metal, "alumin") != NULL;
  switch (caution->when) {
  case HF_CAUTION_ALWAYS:
    return TRUE;
  case HF_CAUTION_HUNG:
    return hung;
  case HF_CAUTION_ZINC:
    return strstr(metal, "galvan") != NULL;
  case HF_CAUTION_CHROMIUM:
    return stainless;
  case HF_CAUTION_OZONE:
    return stainless || aluminium;
  case HF_CAUTION_HYDROGEN:
    return aluminium;
  }
  g_return_val_if_reached(TRUE);
}

const char *
hf_caution_line(void)
{
  return "says nothing of strength, wind or fixings; cutting: mind eyes, fire, fumes, noise, "
         "shock, "
         "hot parts and sharp edges; local codes and licensed practice come first";
}
