// What hands and faults add to a part: a thin ring of focus, a warm rim while a hand has it, a
// wooden wedge beside what is wedged, a red tag on what is faulty.
#pragma once

#include "sim/window/face_parts.h"

namespace understudy {

void draw_marks_under(FaceDrawing& drawing, const FacePart& part, const PartMarks& marks);
void draw_marks_over(FaceDrawing& drawing, const FacePart& part, const PartMarks& marks);

}  // namespace understudy
