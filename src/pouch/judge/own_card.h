/// The sizes that a card decides which somebody cut once: how much of the panel it leaves to the
/// iron is the seal.
///
///     fit_to_card(request, diagnostics);   // before derive(); again where the panel changes
///
/// Not for what the card's outline is (see cards.h).
#pragma once

#include "base/diagnostic.h"
#include "pouch/request.h"

namespace pouchwright::pouch {

/// Sets the seal width from the card and the panel; where nobody states a width, the width so that
/// two usual seals lie beside the card. Does nothing without a card.
/// Fails: an error where the seal is stated besides, the card is wider than the panel, or leaves no
/// clear seal.
void fit_to_card(Request& request, base::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch
