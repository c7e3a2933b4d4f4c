/// Pictures of the leak test: how a pouch is filled, how the level is read, how it waits; and the dip
/// strip at full size.
///
///     picture.place(test_picture(icons, TestScene::fill, mouth_of(pouch)), {x, y});
///
/// Inside `draw` only; the sheet is leak_test.h's. The lines are data: shared/icons.toml.
#pragma once

#include <optional>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/flow.h"
#include "ink/icons.h"
#include "pouch/judge/fill.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// What has to be done before water can be poured in: a flap that the side seams hold is turned
/// inside out over the back, a free one is held back.
enum class Mouth { open, turned_back, held_back };
[[nodiscard]] Mouth mouth_of(const pouch::Pouch& pouch);

/// Is enough left above the water to hang the pouch by pegs?
[[nodiscard]] bool hangs_while_waiting(const pouch::Pouch& pouch, const pouch::Fill& fill);

enum class TestScene { fill, read, wait_hung, wait_stood };
inline constexpr double kTestSceneWidth = 37.5;
inline constexpr double kTestSceneHeight = 33;
[[nodiscard]] Frame test_picture(const Icons& icons, TestScene scene, Mouth mouth);

/// A strip to cut out at full size, lying; its left end stands on the bottom, and a line tells how
/// high the water is to stand. Empty where the level is longer than `room` has room for.
[[nodiscard]] std::optional<Frame> dip_strip(base::Length level, double room,
                                             const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw
