import type { Client } from 'pg'

/** A day on which the whole company is out: forty technicians with eight visits each. */
export const BUSY_DAY = '2026-06-03'

/**
 * Fills a migrated, empty database with a large company in a few set-based statements: customers, homes with spaces
 * and equipment, two visits each, follow-ups and messages; one day with 40 × 8 visits; one home with twenty years of
 * history. Deterministic but for ids. Triggers that tell open screens are left out: nobody watches.
 * @returns the id of the home with the long history
 */
export async function fillBigCompany(client: Client, homes: number): Promise<string> {
  await client.query(`SET session_replication_role = replica`)
  await client.query(`
    INSERT INTO company (id, name, phone, email, address_lines, time_zone)
    VALUES (1, 'Kestrel Row Electric', '555-0100', 'office@example.com', '{1 Kestrel Row}', 'America/New_York')
    ON CONFLICT DO NOTHING;
    INSERT INTO staff (id, email, name, role)
      SELECT gen_random_uuid(), 'technician-' || n || '@example.com', 'Technician ' || lpad(n::text, 2, '0'), 'technician'
      FROM generate_series(1, 40) n;

    CREATE TEMP TABLE word AS SELECT n, (ARRAY['Ana', 'Ben', 'Cleo', 'Dora', 'Eli', 'Fern', 'Gus', 'Hana', 'Ivo', 'Jun',
      'Kai', 'Lena', 'Milo', 'Nora', 'Otis', 'Pia', 'Quin', 'Rosa', 'Sven', 'Tara'])[n] AS first,
      (ARRAY['Reyes', 'Johnson', 'Muñoz', 'Okafor', 'Lind', 'Marsh', 'North', 'Frost', 'Quill', 'Vance', 'Weaver', 'Abara',
      'Bright', 'Castell', 'Dunne', 'Ekström', 'Faye', 'Grove', 'Hale', 'Ibarra'])[n] AS last,
      (ARRAY['Quay Lane', 'Mill Street', 'Lighthouse Road', 'Harbour Street', 'Copper Beech', 'Weaver Row', 'Chapel Hill',
      'Orchard Way', 'Station Road', 'North Parade', 'Ferry Street', 'Glebe Close', 'Tannery Lane', 'Castle Rise',
      'Meadow Walk', 'Kiln Yard', 'Park Crescent', 'River View', 'Church Path', 'Bakers Row'])[n] AS street
      FROM generate_series(1, 20) n;

    CREATE TEMP TABLE home AS SELECT n, gen_random_uuid() AS id, gen_random_uuid() AS customer_id
      FROM generate_series(1, ${homes}) n;
    INSERT INTO customer (id, kind, name, email, phone, address_lines)
      SELECT h.customer_id, 'person', f.first || ' ' || l.last || ' ' || (h.n / 400), 'person-' || h.n || '@example.com',
        '555-' || lpad((h.n % 1000)::text, 3, '0') || '-' || lpad((h.n % 10000)::text, 4, '0'), '{}'
      FROM home h JOIN word f ON f.n = 1 + h.n % 20 JOIN word l ON l.n = 1 + (h.n / 20) % 20;
    INSERT INTO property (id, line1, city, region, postcode, time_zone, year_built, fuels, last_inspected_on)
      SELECT h.id, (1 + h.n / 20) || ' ' || s.street, 'Port Ansel', 'NY', lpad((500 + h.n % 400)::text, 5, '0'),
        'America/New_York', 1900 + h.n % 120, '{electric}', date '2024-01-01' + h.n % 700
      FROM home h JOIN word s ON s.n = 1 + h.n % 20;
    INSERT INTO property_party (property_id, customer_id, role, is_contact) SELECT id, customer_id, 'owner', true FROM home;
    INSERT INTO space (id, property_id, kind, name, position)
      SELECT gen_random_uuid(), h.id, k.kind, initcap(k.kind), k.position
      FROM home h CROSS JOIN (VALUES ('bedroom', 0), ('kitchen', 1), ('hall', 2), ('basement-unfinished', 3)) k (kind, position);
    INSERT INTO equipment (id, property_id, kind, label, details, manufactured_on, replace_by)
      SELECT gen_random_uuid(), h.id, k.kind, initcap(k.kind) || ' ' || k.n, '{"senses": "smoke"}',
        date '2016-01-01' + (h.n + k.n * 97) % 3000, date '2026-01-01' + (h.n + k.n * 97) % 3000
      FROM home h CROSS JOIN (VALUES ('panel', 1), ('alarm', 1), ('alarm', 2), ('alarm', 3), ('circuit', 1), ('circuit', 2))
        k (kind, n);
    INSERT INTO follow_up (id, property_id, kind, subject_kind, subject_id, due_on, reason)
      SELECT gen_random_uuid(), h.id, 'reinspection', 'home', h.id, date '2026-06-01' + h.n % 3000, 'Ten years on.'
      FROM home h;

    CREATE TEMP TABLE technician AS SELECT id, row_number() OVER (ORDER BY name) - 1 AS n FROM staff
      WHERE role = 'technician';
    CREATE TEMP TABLE past AS SELECT h.*, v.turn, gen_random_uuid() AS visit_id,
        timestamptz '2026-05-31 13:00Z' - make_interval(days => (h.n / 320)::int + v.turn * 400, hours => (h.n % 8)::int)
          AS starts_at, t.id AS technician_id
      FROM home h CROSS JOIN generate_series(0, 1) v (turn) JOIN technician t ON t.n = (h.n / 8) % 40;
    INSERT INTO visit (id, property_id, customer_id, technician_id, kind, state, window_starts_at, window_ends_at, starts_at,
        length_minutes, ends_at)
      SELECT visit_id, id, customer_id, technician_id, 'inspection', 'finished', starts_at, starts_at + interval '2 hours',
        starts_at, 60, starts_at + interval '1 hour' FROM past;
    INSERT INTO message (id, kind, category, customer_id, property_id, visit_id, to_address, dedupe_key, message_id_header,
        state, sent_at, created_at)
      SELECT gen_random_uuid(), 'visit-booked', 'booking', customer_id, id, visit_id, 'x@example.com', visit_id::text,
        visit_id::text, 'sent', starts_at, starts_at FROM past;

    INSERT INTO visit (id, property_id, customer_id, technician_id, kind, state, window_starts_at, window_ends_at, starts_at,
        length_minutes, ends_at, note)
      SELECT gen_random_uuid(), h.id, h.customer_id, t.id, 'inspection', 'booked', s.at, s.at + interval '2 hours', s.at, 60,
        s.at + interval '1 hour', 'Ring twice.'
      FROM (SELECT *, timestamptz '${BUSY_DAY} 12:00Z' + make_interval(hours => (n % 8)::int) AS at FROM home WHERE n <= 320) s
      JOIN home h ON h.n = s.n JOIN technician t ON t.n = (s.n - 1) / 8`)
  const longest = await longHistory(client)
  await client.query(`SET session_replication_role = DEFAULT`)
  await client.query(`VACUUM ANALYZE`)
  return longest
}

/** Twenty years at one home: a visit and inspection a year, three findings each, reports, sixty things, messages. */
async function longHistory(client: Client): Promise<string> {
  const { rows } = await client.query<{ id: string }>(`SELECT id FROM home WHERE n = 1000`)
  const id = rows[0]!.id
  await client.query(`
    CREATE TEMP TABLE year AS SELECT y, gen_random_uuid() AS visit_id, gen_random_uuid() AS inspection_id,
        timestamptz '2006-03-01 14:00Z' + make_interval(years => y) AS at,
        (SELECT id FROM technician WHERE n = y % 40) AS technician_id,
        (SELECT customer_id FROM home WHERE n = 1000) AS customer_id
      FROM generate_series(0, 19) y;
    INSERT INTO visit (id, property_id, customer_id, technician_id, kind, state, window_starts_at, window_ends_at, starts_at,
        length_minutes, ends_at)
      SELECT visit_id, '${id}', customer_id, technician_id, 'inspection', 'finished', at, at + interval '2 hours', at, 120,
        at + interval '2 hours' FROM year;
    INSERT INTO inspection (id, property_id, visit_id, technician_id, checklist_version, state, started_at, completed_at,
        completed_on)
      SELECT inspection_id, '${id}', visit_id, technician_id, 1, 'issued', at, at, at::date FROM year;
    INSERT INTO finding (id, property_id, inspection_id, item_id, severity, text, correction, state, found_on, closed_on)
      SELECT gen_random_uuid(), '${id}', inspection_id, 'alarms.age', (ARRAY['unsafe', 'repair', 'improve'])[n],
        'Found in year ' || y || ': ' || repeat('words of a finding ', 5), 'Replace it.',
        CASE WHEN y = 19 THEN 'open' ELSE 'checked' END, at::date, CASE WHEN y < 19 THEN at::date + 30 END
      FROM year CROSS JOIN generate_series(1, 3) n;
    INSERT INTO report (id, inspection_id, version, content, sha256, pdf_sha256, issued_by_id, issued_at)
      SELECT gen_random_uuid(), inspection_id, 1, '{}', '\\x00', '\\x00', technician_id, at FROM year;
    INSERT INTO equipment (id, property_id, kind, label, details, manufactured_on, replace_by)
      SELECT gen_random_uuid(), '${id}', (ARRAY['circuit', 'alarm', 'receptacle'])[1 + n % 3], 'Thing ' || n,
        '{"ratingAmps": 20, "device": "breaker", "serves": "lighting"}', date '2015-01-01' + n, date '2027-01-01' + n
      FROM generate_series(1, 54) n;
    INSERT INTO space (id, property_id, kind, name, position)
      SELECT gen_random_uuid(), '${id}', 'bedroom', 'Room ' || n, 4 + n FROM generate_series(1, 12) n;
    INSERT INTO follow_up (id, property_id, kind, subject_kind, subject_id, due_on, reason, state, closed_at, closed_reason)
      SELECT gen_random_uuid(), '${id}', 'alarm-end-of-life', 'equipment', e.id, e.replace_by, 'Ten years of service end.',
        CASE WHEN c.n = 0 THEN 'planned' ELSE 'done' END, CASE WHEN c.n > 0 THEN now() END, CASE WHEN c.n > 0 THEN 'replaced' END
      FROM equipment e CROSS JOIN generate_series(0, 1) c (n) WHERE e.property_id = '${id}' AND e.kind = 'alarm';
    INSERT INTO message (id, kind, category, customer_id, property_id, to_address, to_name, dedupe_key, message_id_header,
        state, subject, reason, sent_at, created_at)
      SELECT gen_random_uuid(), 'due-reminder', 'reminder', customer_id, '${id}', 'x@example.com', 'Ana Reyes',
        'long-' || y || '-' || n, 'long-' || y || '-' || n, 'sent', 'Alarms at your home', 'Something fell due.', at, at
      FROM year CROSS JOIN generate_series(1, 5) n`)
  return id
}
