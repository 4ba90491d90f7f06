// Where on a face a part can go without lying on another: for what the editor adds.
#pragma once

#include <optional>

#include "sim/window/face_geometry.h"

namespace understudy {

// A middle for the part, on whole fives of millimetres, so that neither it nor its legend touches
// another part, legend, the title or the edge; the one nearest to where it is. Nothing: it lies
// well where it is, or there is no room.
std::optional<Point> free_spot(const FaceGeometry& face, const PartId& part);

}  // namespace understudy
