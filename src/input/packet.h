/// What a job says of its packet.
#pragma once

#include "base/named.h"

namespace pouchwright::input {

/// What a packet holds to cut by: the whole template, or nothing but the fold gauge.
enum class PacketTemplate { full, gauge };
inline constexpr base::Named<PacketTemplate> kPacketTemplateWords[] = {
    {PacketTemplate::full, "full"}, {PacketTemplate::gauge, "gauge"}};
struct PacketSettings {
  PacketTemplate templates = PacketTemplate::full;
};

}  // namespace pouchwright::input
