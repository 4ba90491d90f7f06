// Where the rows of the panel's own tables are, file by file. Only key_table.cpp's readers and
// keys_panel.cpp, which joins them, need this.
#pragma once

#include <span>

#include "sim/panel/key_table.h"

namespace understudy {

std::span<const KeyOf<PanelDescription>> board_rows();    // keys_board.cpp
std::span<const KeyOf<PanelDescription>> manners_rows();  // keys_manners.cpp
std::span<const KeyOf<PanelDescription>> gather_rows();
std::span<const KeyOf<PanelDescription>> heap_rows();
std::span<const KeyOf<PanelDescription>> wire_rows();  // keys_wire.cpp
std::span<const KeyOf<PanelDescription>> host_rows();
std::span<const KeyOf<PanelDescription>> to_game_rows();
std::span<const KeyOf<PanelDescription>> to_panel_rows();
std::span<const KeyOf<PanelDescription>> matrix_rows();  // keys_matrix.cpp

}  // namespace understudy
