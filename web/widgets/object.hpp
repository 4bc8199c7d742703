#pragma once

/// The drawn objects that tell sessions apart: each a few strokes, told from the others by its outline alone.

#include "core/session/objects.hpp"
#include "web/widgets/ui.hpp"

#include <optional>

namespace hangtime::ui {

/// Draws into the largest square in the middle of the box. Notes nothing: its name stands beside it.
void draw_object(Ui& ui, Box box, SpokenObject object, Color color);
/// The same, noted as a picture that is called by its name.
void object(Ui& ui, std::string_view id, Box box, SpokenObject object);

/// A session as a line that opens it: its object, what it is called, what is due, and a word about how it is kept.
bool session_row(Ui& ui, std::string_view id, Box box, std::optional<SpokenObject> object, std::string_view title,
                 std::string_view due, std::string_view trouble);

} // namespace hangtime::ui
