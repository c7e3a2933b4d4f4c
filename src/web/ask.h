/// The desk without a server: what a browser calls of the program that it holds itself. Request in,
/// answer out, as the server has it (desk/server.h), byte for byte.
///
///     pouchwright_open();
///     pouchwright_ask("POST", "/api/size", job, job_size);
///     // status, type and body lie ready until the next question
///
/// The data are in the program's own files, below /program. Not for what shows the answers: page/.
#pragma once

extern "C" {

/// Reads the program's data. 0, or 1 where they are at fault: then the body says how.
int pouchwright_open();

/// Answers one request. Requires: pouchwright_open() returned 0. The body's bytes are `body` to
/// `body` + `size`. Returns the status, as HTTP has them.
int pouchwright_ask(const char* method, const char* target, const char* body, int size);

const char* pouchwright_type();
const char* pouchwright_save_as();
const char* pouchwright_body();
int pouchwright_body_size();
}
