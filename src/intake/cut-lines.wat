;; Finds where the cells of lines are: see line-cutter.ts, which gives the memory and asks for the cut.
;;
;; The memory holds, from 0, the text, then 64 bytes that are no mark; and at the given places, whole numbers of 32 bits each: the bounds of the
;; cells, and of each row the places among the bounds of its first and its last. A mark is a delimiter, LF or CR: each is a bound, as is
;; -1 before the first cell. LF after CR ends no row: it is where the next one begins.
;;
;; Sixty-four bytes are looked at together, sixteen by an instruction: what they are is then a bit each in two numbers of 64 bits, and time goes by the
;; marks, not by the bytes between them.
(module
  (import "lines" "memory" (memory 1))
  (func (export "cut")
    (param $end i32) (param $delimiter i32)
    (param $bounds i32) (param $firsts i32) (param $lasts i32)
    (result i32) ;; rows
    (local $at i32)      ;; first of the bytes looked at
    (local $sixteen i64) ;; 0, 16, 32, 48: which of them
    (local $bytes v128)
    (local $is_end v128)
    (local $marks i64)   ;; a bit for each byte that is a mark
    (local $ends i64)    ;; and that is LF or CR
    (local $place i64)   ;; of a byte among the sixty-four
    (local $next i32)    ;; bounds so far
    (local $mark i32)    ;; place of a mark among the bounds
    (local $rows i32)

    (i32.store (local.get $bounds) (i32.const -1))
    (i32.store (local.get $firsts) (i32.const 0))
    (local.set $next (i32.const 1))

    (block $all_done
      (loop $sixty_four
        (br_if $all_done (i32.ge_u (local.get $at) (local.get $end)))

        (local.set $marks (i64.const 0))
        (local.set $ends (i64.const 0))
        (local.set $sixteen (i64.const 0))
        (loop $look
          (local.set $bytes
            (v128.load (i32.add (local.get $at) (i32.wrap_i64 (local.get $sixteen)))))
          (local.set $is_end
            (v128.or
              (i8x16.eq (local.get $bytes) (i8x16.splat (i32.const 10)))
              (i8x16.eq (local.get $bytes) (i8x16.splat (i32.const 13)))))
          (local.set $ends
            (i64.or (local.get $ends)
              (i64.shl
                (i64.extend_i32_u (i8x16.bitmask (local.get $is_end)))
                (local.get $sixteen))))
          (local.set $marks
            (i64.or (local.get $marks)
              (i64.shl
                (i64.extend_i32_u
                  (i8x16.bitmask
                    (v128.or
                      (local.get $is_end)
                      (i8x16.eq (local.get $bytes) (i8x16.splat (local.get $delimiter))))))
                (local.get $sixteen))))
          (local.set $sixteen (i64.add (local.get $sixteen) (i64.const 16)))
          (br_if $look (i64.lt_u (local.get $sixteen) (i64.const 64))))

        (block $ends_done
          (loop $end_row
            (br_if $ends_done (i64.eqz (local.get $ends)))
            (local.set $place (i64.ctz (local.get $ends)))
            ;; Without its lowest bit.
            (local.set $ends (i64.and (local.get $ends) (i64.sub (local.get $ends) (i64.const 1))))
            ;; Marks before it.
            (local.set $mark
              (i32.add
                (local.get $next)
                (i32.wrap_i64
                  (i64.popcnt
                    (i64.and
                      (local.get $marks)
                      (i64.sub (i64.shl (i64.const 1) (local.get $place)) (i64.const 1)))))))
            (if (i32.eqz (call $is_after_cr (i32.add (local.get $at) (i32.wrap_i64 (local.get $place)))))
              (then
                (i32.store
                  (i32.add (local.get $lasts) (i32.shl (local.get $rows) (i32.const 2)))
                  (local.get $mark))
                (local.set $rows (i32.add (local.get $rows) (i32.const 1)))))
            (i32.store
              (i32.add (local.get $firsts) (i32.shl (local.get $rows) (i32.const 2)))
              (local.get $mark))
            (br $end_row)))

        (block $marks_done
          (loop $bound
            (br_if $marks_done (i64.eqz (local.get $marks)))
            (i32.store
              (i32.add (local.get $bounds) (i32.shl (local.get $next) (i32.const 2)))
              (i32.add (local.get $at) (i32.wrap_i64 (i64.ctz (local.get $marks)))))
            (local.set $next (i32.add (local.get $next) (i32.const 1)))
            (local.set $marks (i64.and (local.get $marks) (i64.sub (local.get $marks) (i64.const 1))))
            (br $bound)))

        (local.set $at (i32.add (local.get $at) (i32.const 64)))
        (br $sixty_four)))
    (local.get $rows))

  ;; Whether a byte is the LF of CR LF.
  (func $is_after_cr (param $at i32) (result i32)
    (if (result i32) (i32.and
        (i32.eq (i32.load8_u (local.get $at)) (i32.const 10))
        (i32.gt_u (local.get $at) (i32.const 0)))
      (then (i32.eq (i32.load8_u (i32.sub (local.get $at) (i32.const 1))) (i32.const 13)))
      (else (i32.const 0)))))
